// The decision: a cause out of the list, or two where a machine may have two; final once confirmed.
import { useSignal } from '@preact/signals';
import { Button, Field, Sheet } from '../../parts/parts';
import { say } from '../../words/words';
import { decide } from './standing';

interface Cause {
  word: string;
  label: string;
}

const bare = (text: string) =>
  text
    .toLowerCase()
    .normalize('NFD')
    .replace(/[\u0300-\u036f]/g, '');

/** Every word typed is somewhere in the label. */
export function matching<T extends { label: string }>(causes: readonly T[], text: string): T[] {
  const wanted = bare(text).split(/\s+/).filter(Boolean);
  return causes.filter((c) => wanted.every((w) => bare(c.label).includes(w)));
}

export function DecideSheet({
  causes,
  two,
  onClose,
}: {
  causes: readonly Cause[];
  two: boolean;
  onClose: () => void;
}) {
  const text = useSignal('');
  const chosen = useSignal<readonly string[]>([]);
  const shown = causes.filter((c) => chosen.value.includes(c.word) || matching([c], text.value).length > 0);
  const flip = (word: string) => {
    const without = chosen.value.filter((c) => c !== word);
    if (without.length < chosen.value.length) chosen.value = without;
    else chosen.value = two && without.length < 2 ? [...without, word] : [word];
  };
  const labels = causes.filter((c) => chosen.value.includes(c.word)).map((c) => c.label);
  return (
    <Sheet title={say('practice.decide_what')} onClose={onClose}>
      {two && <p class="small quiet">{say('practice.one_or_two')}</p>}
      <Field
        label={say('practice.search')}
        value={text.value}
        onInput={(t) => (text.value = t)}
        name="search-cause"
      />
      <fieldset class="choice causes">
        <legend class="spoken">{say('practice.decide_what')}</legend>
        <div class="options">
          {shown.map((c) => (
            <label key={c.word}>
              <input
                type={two ? 'checkbox' : 'radio'}
                name="cause"
                checked={chosen.value.includes(c.word)}
                onChange={() => flip(c.word)}
                data-name={`cause:${c.word}`}
              />
              {c.label}
            </label>
          ))}
        </div>
        {shown.length === 0 && <p class="quiet">{say('practice.none_found')}</p>}
      </fieldset>
      <div class="confirm">
        <Button
          kind="main"
          wide
          disabled={labels.length === 0}
          onPress={() => decide(chosen.value.join('+'))}
          name="confirm"
        >
          {labels.length === 0
            ? say('practice.choose_first')
            : say('practice.confirm', { cause: labels.join(' + ') })}
        </Button>
      </div>
    </Sheet>
  );
}
