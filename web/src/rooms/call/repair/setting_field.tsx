// One setting of a procedure: kept as a draft while it is typed, an entry of the call once the field is left.
import type { Signal } from '@preact/signals';
import { useState } from 'preact/hooks';
import type { Problem } from '../../../engine/engine';
import { Button, Choice, Field } from '../../../parts/parts';
import { app } from '../../../shell/app';
import { prefs } from '../../../shell/prefs';
import type { OpenCall } from '../../../store/store';
import { say, type Key } from '../../../words/words';
import { AmountField, type AmountInput } from '../../handy/amount_field';
import { concerns, worded } from '../../handy/problems';
import { chipOf, split, spoken, turned, unfinished, unitsFor, usualUnit, withUnit } from '../../handy/units';
import type { ProcedureField } from './procedures';
import { Stopwatch } from './stopwatch';
import { saidElsewhere, settingChange, settingsOf } from './settings';

export interface Setting {
  field: ProcedureField;
  /** What stands, or is being typed over it. */
  text: string;
  /** What the core is asked; null while there is nothing, or what stands is what it knows already. */
  typed: string | null;
  amount: AmountInput | null;
  /** When a stopwatch was started; "" when it doesn't run. */
  started: Signal<string>;
  /** What the same setting was given elsewhere in the call, while there is nothing here. */
  offer: { procedure: string; text: string } | null;
  type: (text: string) => void;
  save: (text: string) => void;
  finish: () => void;
}

/** `run` and `procedure` say where it is kept. A hook: the same fields in the same order at every drawing. */
export function useSetting(call: OpenCall, procedure: string, run: number, field: ProcedureField): Setting {
  const system = prefs.units.value;
  const draft = app.store.draft(`${call.id}.${procedure}.${run}.${field.key}`);
  const unit = app.store.draft(`handy.repair.${field.key}.unit.${system}`);
  const started = app.store.draft(`${call.id}.${procedure}.${run}.${field.key}.started`);
  const [emptied, setEmptied] = useState(false);
  const kept = settingsOf(call.standing.value, procedure, run).get(field.key) ?? '';
  const text = draft.value || (emptied ? '' : kept);
  const chips = field.amount ? unitsFor(field.amount, system) : [];
  const usual = field.amount
    ? chips.includes(unit.value)
      ? unit.value
      : usualUnit(field.amount, system)
    : '';
  const put = (next: string) => {
    draft.value = next;
    setEmptied(next === '');
  };
  const save = (next: string) => {
    draft.value = '';
    setEmptied(false);
    for (const entry of settingChange(call.standing.peek(), procedure, run, field.key, next.trim()))
      void call.add(entry);
  };
  const whole = (t: string) => (field.amount ? (spoken(t, usual) ?? '') : t.trim());
  // A sign or a point alone is the beginning of an amount: it waits as a draft.
  const finish = () => {
    if (field.amount && text !== '' && unfinished(text)) return;
    if (draft.peek() !== '' || emptied) save(whole(text));
  };
  const typedUnit = field.amount ? split(text).unit : '';
  const amount: AmountInput | null = field.amount
    ? {
        text,
        said: unfinished(text) ? null : spoken(text, usual),
        chips,
        chip: typedUnit ? chipOf(typedUnit, chips) : usual,
        type: (next) => {
          const chip = chipOf(split(next).unit, chips);
          if (chip) unit.value = chip;
          put(next);
        },
        choose: (chosen) => {
          unit.value = chosen;
          if (!unfinished(text)) save(withUnit(text, chosen));
        },
        turn: () => put(turned(text)),
        finish,
      }
    : null;
  const typing = draft.value !== '' && !(field.amount && unfinished(draft.value));
  const offer =
    text === '' && field.amount ? saidElsewhere(call.standing.value, procedure, run, field.key) : null;
  return {
    field,
    text,
    typed: typing ? whole(draft.value) : null,
    amount,
    offer,
    started,
    type: put,
    save,
    finish,
  };
}

export function SettingField({ setting, problem }: { setting: Setting; problem: Problem | null }) {
  const { field, amount } = setting;
  // What is only missing is no mistake: it is said where it is wanted, quietly.
  const wanted = setting.text === '' && concerns(problem, field.key) ? problem : null;
  const shown = wanted ? null : problem;
  const label = say(`repair.field_${field.label ?? field.key}` as Key);
  const hint = wanted
    ? say('repair.wanted', { allowed: wanted.allowed })
    : field.hint
      ? say(`repair.hint_${field.hint}` as Key)
      : undefined;
  if (amount)
    return (
      <div class="setting">
        <AmountField
          label={label}
          input={amount}
          field={field.key}
          problem={shown}
          {...(hint ? { hint } : {})}
          signed={field.signed ?? false}
        />
        {field.stopwatch && (
          <Stopwatch
            started={setting.started}
            onStop={(seconds) => setting.save(`${Math.round(seconds * 10) / 10} s`)}
          />
        )}
        {setting.offer && (
          <Button onPress={() => setting.save(setting.offer!.text)} name={`take:${field.key}`}>
            {say('repair.take_said', { value: setting.offer.text })}
          </Button>
        )}
      </div>
    );
  const wrong = concerns(shown, field.key) ? worded(shown!) : null;
  if (field.choices)
    return (
      <div class="field" data-name={field.key}>
        <Choice
          legend={label}
          value={setting.text || null}
          options={field.choices.map((value) => ({
            value,
            label: say(`repair.choice_${field.words ?? field.key}_${value}` as Key),
          }))}
          onChoose={setting.save}
          onClear={() => setting.save('')}
        />
        {wrong ? <span class="problem">{wrong}</span> : hint && <span class="hint">{hint}</span>}
      </div>
    );
  return (
    <Field
      label={label}
      value={setting.text}
      onInput={setting.type}
      onDone={setting.finish}
      hint={hint}
      problem={wrong}
      name={field.key}
    />
  );
}
