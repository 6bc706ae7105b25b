// One amount: the text as it is said, and its units to tap after the number.
import { useId } from 'preact/hooks';
import type { Problem } from '../../engine/engine';
import { app } from '../../shell/app';
import { prefs } from '../../shell/prefs';
import { say } from '../../words/words';
import { concerns, worded } from './problems';
import {
  chipOf,
  split,
  spoken,
  turned,
  unfinished,
  unitsFor,
  usualUnit,
  withUnit,
  type Amount,
} from './units';

export interface AmountInput {
  text: string;
  /** What the core is asked; null while there is nothing to ask. */
  said: string | null;
  chips: string[];
  /** The chip that counts; null where a unit was typed that is none of them. */
  chip: string | null;
  type: (text: string) => void;
  choose: (unit: string) => void;
  turn: () => void;
  /** Writes the unit that counts behind a bare number, so that a change of systems can't change its meaning. */
  finish: () => void;
}

/** The text is kept as a draft under `key`; so is the unit chosen last, for each system of units. */
export function useAmount(key: string, amount: Amount): AmountInput {
  const system = prefs.units.value;
  const text = app.store.draft(`handy.${key}`);
  const last = app.store.draft(`handy.${key}.unit.${system}`);
  const chips = unitsFor(amount, system);
  const usual = chips.includes(last.value) ? last.value : usualUnit(amount, system);
  const typed = split(text.value).unit;
  return {
    text: text.value,
    said: unfinished(text.value) ? null : spoken(text.value, usual),
    chips,
    chip: typed ? chipOf(typed, chips) : usual,
    type: (next) => {
      const chip = chipOf(split(next).unit, chips);
      if (chip) last.value = chip;
      text.value = next;
    },
    choose: (unit) => {
      last.value = unit;
      text.value = withUnit(text.value, unit);
    },
    turn: () => (text.value = turned(text.value)),
    finish: () => {
      if (!unfinished(text.value)) text.value = spoken(text.value, usual) ?? '';
    },
  };
}

export function AmountField({
  label,
  input,
  field,
  problem,
  hint,
  signed,
}: {
  label: string;
  input: AmountInput;
  /** The core's name of it. */
  field: string;
  problem: Problem | null;
  hint?: string;
  /** It may be negative: a key turns the sign, which phones hide on a second page of keys. */
  signed?: boolean;
}) {
  const id = useId();
  const wrong = concerns(problem, field) ? worded(problem!) : null;
  // A tap on a chip leaves the keys of the phone where they are.
  const stay = (e: Event) => e.preventDefault();
  return (
    <div class="field amount">
      <label for={id}>{label}</label>
      <div class="amount-row">
        <input
          id={id}
          type="text"
          class="number"
          inputMode="text"
          autocomplete="off"
          autocapitalize="off"
          enterkeyhint="done"
          spellcheck={false}
          value={input.text}
          data-name={field}
          aria-invalid={wrong ? 'true' : undefined}
          aria-describedby={`${id}-hint`}
          onInput={(e) => input.type(e.currentTarget.value)}
          onFocus={(e) => e.currentTarget.select()}
          onBlur={input.finish}
          onKeyDown={(e) => e.key === 'Enter' && e.currentTarget.blur()}
        />
        {(input.chips.length > 1 || signed) && (
          <div class="units" role="group" aria-label={say('handy.unit_of', { what: label })}>
            {signed && (
              <button
                type="button"
                class="unit"
                aria-label={say('handy.turn_sign')}
                onPointerDown={stay}
                onClick={input.turn}
              >
                ±
              </button>
            )}
            {input.chips.length > 1 &&
              input.chips.map((unit) => (
                <button
                  key={unit}
                  type="button"
                  class="unit"
                  aria-pressed={unit === input.chip}
                  data-name={`${field}-${unit}`}
                  onPointerDown={stay}
                  onClick={() => input.choose(unit)}
                >
                  {unit}
                </button>
              ))}
          </div>
        )}
      </div>
      <div id={`${id}-hint`} aria-live="polite">
        {wrong ? <span class="problem">{wrong}</span> : hint && <span class="hint">{hint}</span>}
      </div>
    </div>
  );
}
