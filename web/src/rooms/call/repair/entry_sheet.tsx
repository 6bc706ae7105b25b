// The sheet in which something of the work is written down or corrected, driven by its row in kinds.ts. What is
// typed is kept as drafts until it is taken down.
import { Button, Choice, Field, Sheet } from '../../../parts/parts';
import { app } from '../../../shell/app';
import { prefs } from '../../../shell/prefs';
import type { Entry, OpenCall } from '../../../store/store';
import { say, type Key } from '../../../words/words';
import { AmountField, type AmountInput } from '../../handy/amount_field';
import { useStanding } from '../../handy/problems';
import { chipOf, split, spoken, turned, unfinished, unitsFor, usualUnit, withUnit } from '../../handy/units';
import { useOnce } from '../read/ask_once';
import { fieldsOf } from '../read/fold';
import { followed } from '../live_answer';
import { complete, entryOf, shownFields, valuesOf, type EntryField, type EntryKind } from './kinds';

interface Values {
  get: (key: string) => string;
  set: (key: string, text: string) => void;
  all: () => Record<string, string>;
  clear: () => void;
}

/** Drafts over what is corrected; the first drawing fills them. */
function useValues(call: OpenCall, kind: EntryKind, correct: Entry | null): Values {
  const base = `${call.id}.write.${kind.kind}.${correct?.id ?? 'new'}`;
  const before = correct ? valuesOf(kind, correct) : starting(call, kind);
  const draft = (key: string) => app.store.draft(`${base}.${key}`);
  // A blank stands for "emptied": an empty draft is none.
  const get = (key: string) => (draft(key).value === '' ? (before[key] ?? '') : draft(key).value.trimStart());
  return {
    get,
    set: (key, text) => (draft(key).value = text === '' ? ' ' : text),
    all: () => Object.fromEntries(kind.fields.map((f) => [f.key, get(f.key)])),
    clear: () => {
      for (const f of kind.fields) draft(f.key).value = '';
    },
  };
}

function starting(call: OpenCall, kind: EntryKind): Record<string, string> {
  if (kind.kind === 'part') return { action: 'replaced' };
  if (kind.kind !== 'refrigerant_moved') return {};
  const plate = fieldsOf(call.standing.value, 'nameplate').get('refrigerant')?.refrigerant;
  return { how_much: 'scale', ...(plate === undefined ? {} : { refrigerant: String(plate) }) };
}

function Amount({ field, values, label }: { field: EntryField; values: Values; label: string }) {
  const system = prefs.units.value;
  const amount = field.amount!;
  const chips = unitsFor(amount, system);
  const last = app.store.draft(`handy.write.${amount}.unit.${system}`);
  const usual = chips.includes(last.value) ? last.value : usualUnit(amount, system);
  const text = values.get(field.key);
  const said = unfinished(text) ? null : spoken(text, usual);
  const kind = amount === 'mass' ? 'mass' : 'temperature';
  const { problem } = useOnce<unknown>('quantity', said ? { kind, text: said } : null, 150);
  const standing = useStanding(problem);
  const typed = split(text).unit;
  const input: AmountInput = {
    text,
    said,
    chips,
    chip: typed ? chipOf(typed, chips) : usual,
    type: (next) => {
      const chip = chipOf(split(next).unit, chips);
      if (chip) last.value = chip;
      values.set(field.key, next);
    },
    choose: (unit) => {
      last.value = unit;
      values.set(field.key, withUnit(text, unit));
    },
    turn: () => values.set(field.key, turned(text)),
    finish: () => said && values.set(field.key, said),
  };
  const shown = standing && { ...standing, field: field.key };
  return (
    <AmountField
      label={label}
      input={input}
      field={field.key}
      problem={shown}
      signed={kind === 'temperature'}
    />
  );
}

/** The cause by the core's own word, the likely ones to tap. */
function Cause({ call, values, label }: { call: OpenCall; values: Values; label: string }) {
  const { answer } = followed(call).live.value;
  const causes = (answer?.causes ?? []).slice(0, 8);
  const chosen = values.get('cause');
  return (
    <>
      {causes.length > 0 && (
        <Choice
          legend={say('repair.cause_likely')}
          value={causes.some((c) => c.cause === chosen) ? chosen : null}
          options={causes.map((c) => ({ value: c.cause, label: c.label }))}
          onChoose={(c) => values.set('cause', c)}
        />
      )}
      <Field
        label={label}
        value={causes.find((c) => c.cause === chosen)?.label ?? chosen}
        onInput={(t) => values.set('cause', t)}
        name="write-cause"
      />
    </>
  );
}

export function EntrySheet({
  call,
  kind,
  correct,
  onClose,
}: {
  call: OpenCall;
  kind: EntryKind;
  correct: Entry | null;
  onClose: () => void;
}) {
  const values = useValues(call, kind, correct);
  const save = () => {
    const all = values.all();
    // A bare number left in a field gets the unit that counts there.
    for (const f of kind.fields)
      if (f.amount && all[f.key]) {
        const system = prefs.units.peek();
        const last = app.store.draft(`handy.write.${f.amount}.unit.${system}`).peek();
        const chips = unitsFor(f.amount, system);
        all[f.key] = spoken(all[f.key]!, chips.includes(last) ? last : usualUnit(f.amount, system)) ?? '';
      }
    void call.add(entryOf(kind, all, correct));
    values.clear();
    onClose();
  };
  return (
    <Sheet title={say(`repair.kind_${kind.kind}`)} onClose={onClose}>
      {shownFields(kind, values.all()).map((f) => {
        const label = say(`repair.write_${kind.kind}_${f.key}` as Key);
        if (f.key === 'cause') return <Cause key={f.key} call={call} values={values} label={label} />;
        if (f.amount) return <Amount key={f.key} field={f} values={values} label={label} />;
        if (f.choices)
          return (
            <div key={f.key} data-name={`write-${f.key}`}>
              <Choice
                legend={label}
                value={values.get(f.key) || null}
                options={f.choices.map((c) => ({ value: c, label: say(`repair.${f.key}_${c}` as Key) }))}
                onChoose={(c) => values.set(f.key, c)}
              />
            </div>
          );
        return (
          <Field
            key={f.key}
            label={label}
            value={values.get(f.key)}
            onInput={(t) => values.set(f.key, t)}
            {...(f.lines ? { lines: f.lines } : {})}
            hint={f.hint ? say(`repair.write_hint_${f.key}` as Key) : undefined}
            name={`write-${f.key}`}
          />
        );
      })}
      <Button kind="main" wide disabled={!complete(kind, values.all())} onPress={save} name="write-save">
        {say('call.save')}
      </Button>
    </Sheet>
  );
}
