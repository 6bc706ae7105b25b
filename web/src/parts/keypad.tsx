// Our own keys for one number with its unit: big enough for a glove. The text field above them also takes a
// physical keyboard, a paste, and what a phone writes down from speech.
import type { ComponentChildren } from 'preact';
import { useEffect, useId, useRef, useState } from 'preact/hooks';
import { say } from '../words/words';
import { press } from './keypad_text';
import { Button } from './parts';
import './keypad.css';

const fractions = ['1/4', '1/2', '3/4'];

export function Keypad({
  label,
  text,
  onText,
  units,
  unit,
  onUnit,
  withFractions,
  withOpen,
  understood,
  problem,
  onSave,
  canSave,
  saveText,
}: {
  label: string;
  text: string;
  onText: (text: string) => void;
  units: readonly string[];
  unit: string;
  onUnit: (unit: string) => void;
  withFractions?: boolean;
  /** A meter that shows an open line. */
  withOpen?: boolean;
  understood: ComponentChildren;
  problem: string | null;
  onSave: () => void;
  canSave: boolean;
  /** What the main key says, where it doesn't take the amount down yet. */
  saveText?: string | undefined;
}) {
  const id = useId();
  const field = useRef<HTMLInputElement>(null);
  const [phoneKeys, setPhoneKeys] = useState(false);
  useEffect(() => field.current?.focus({ preventScroll: true }), [phoneKeys]);
  const stay = (e: Event) => e.preventDefault(); // the field keeps the focus, so that a keyboard goes on there
  const Key = ({ k, show, said }: { k: string; show?: string; said?: string }) => (
    <button
      type="button"
      class={`key${/^\d$/.test(k) ? ' digit' : ''}`}
      data-name={`key-${k}`}
      aria-label={said}
      onPointerDown={stay}
      onClick={() => onText(press(text, k))}
    >
      {show ?? k}
    </button>
  );
  return (
    <div class="keypad">
      <div class="field">
        <label for={id} class="spoken">
          {label}
        </label>
        <div class="entry-line">
          <input
            ref={field}
            id={id}
            type="text"
            class="number"
            inputMode={phoneKeys ? 'text' : 'none'}
            autocomplete="off"
            autocapitalize="off"
            spellcheck={false}
            enterkeyhint="done"
            value={text}
            data-name="value"
            aria-invalid={problem ? 'true' : undefined}
            aria-describedby={`${id}-told`}
            onInput={(e) => onText(e.currentTarget.value)}
            onKeyDown={(e) => e.key === 'Enter' && canSave && onSave()}
          />
          <button
            type="button"
            class="key"
            aria-pressed={phoneKeys}
            aria-label={say('call.phone_keys')}
            data-name="phone-keys"
            onClick={() => setPhoneKeys(!phoneKeys)}
          >
            abc
          </button>
        </div>
        <div id={`${id}-told`} class="told" aria-live="polite">
          {problem ? <span class="problem">{problem}</span> : understood}
        </div>
      </div>
      {units.length > 0 && (
        <div class="unit-keys" role="group" aria-label={say('call.unit_keys')}>
          {units.map((u) => (
            <button
              key={u}
              type="button"
              class="key"
              aria-pressed={u === unit}
              data-name={`key-${u}`}
              onPointerDown={stay}
              onClick={() => onUnit(u)}
            >
              {u}
            </button>
          ))}
        </div>
      )}
      <div class={`keys${withFractions ? ' fractions' : withOpen ? ' open' : ''}`}>
        {['7', '8', '9'].map((k) => (
          <Key k={k} key={k} />
        ))}
        <Key k="back" show="⌫" said={say('call.key_back')} />
        {['4', '5', '6'].map((k) => (
          <Key k={k} key={k} />
        ))}
        <Key k="-" show="−" said={say('call.key_minus')} />
        {['1', '2', '3'].map((k) => (
          <Key k={k} key={k} />
        ))}
        <Key k="." said={say('call.key_point')} />
        <Key k="0" />
        {withFractions && fractions.map((k) => <Key k={k} key={k} />)}
        {withOpen && <Key k="OL" said={say('call.key_open')} />}
      </div>
      <Button kind="main" wide disabled={!canSave} onPress={onSave} name="save">
        {saveText ?? say('call.save')}
      </Button>
    </div>
  );
}
