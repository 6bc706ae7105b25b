// One reading: where it is taken, what could hurt there, its range on a sound machine, the keys, the instrument.
import { Disclosure, Field } from '../../../parts/parts';
import { Icon } from '../../../parts/icon';
import { app } from '../../../shell/app';
import { prefs } from '../../../shell/prefs';
import type { Entry, NewEntry, OpenCall } from '../../../store/store';
import { say } from '../../../words/words';
import { AmountSheet } from './amount_sheet';
import { contentOf } from './fold';
import { siteOf } from './site';
import type { ReadingWord } from './vocabulary';

const running = ['5 min', '15 min', '30 min', '60 min'];

export function ReadingSheet({
  call,
  reading,
  correct,
  expected,
  onClose,
}: {
  call: OpenCall;
  reading: ReadingWord;
  /** The entry that is corrected; null for a new reading. */
  correct: Entry | null;
  expected: string | null;
  onClose: () => void;
}) {
  const key = correct ? `correct.${correct.id}` : reading.word;
  const runningFor = app.store.draft(`${call.id}.${key}.running_for`);
  // An instrument stays the same from call to call.
  const accuracy = app.store.draft(`accuracy.${reading.word}`);
  const instrument = app.store.draft(`instrument.${reading.quantity}`);
  const use = app.store.draft(`instrument.${reading.word}.used`);
  const known = [instrument.value, accuracy.value && `±${accuracy.value}`].filter(Boolean).join(' ');
  const save = (value: string) => {
    const entry: NewEntry = correct
      ? { ...contentOf(correct), value, replaces: correct.id }
      : { kind: 'reading', what: reading.word, value };
    if (runningFor.value) entry.running_for = runningFor.value;
    if (use.value && accuracy.value.trim()) entry.accuracy = accuracy.value.trim();
    if (use.value && instrument.value.trim()) entry.instrument = instrument.value.trim();
    runningFor.value = '';
    void call.add(entry);
    onClose();
  };
  return (
    <AmountSheet
      title={reading.label}
      kind={reading.quantity}
      draft={`${call.id}.${key}`}
      site={siteOf(call.standing.value)}
      onClose={onClose}
      onSave={save}
      below={
        <>
          <div class="toggles" role="group" aria-label={say('call.running_for')}>
            <span class="small">{say('call.running_for')}</span>
            {running.map((r) => (
              <button
                key={r}
                type="button"
                class="toggle"
                aria-pressed={runningFor.value === r}
                onClick={() => (runningFor.value = runningFor.value === r ? '' : r)}
              >
                {r}
              </button>
            ))}
          </div>
          {known && (
            <button
              type="button"
              class="toggle"
              aria-pressed={use.value !== ''}
              onClick={() => (use.value = use.value ? '' : 'yes')}
            >
              {say('call.with_instrument', { what: known })}
            </button>
          )}
          <Disclosure summary={say('call.instrument')}>
            <p class="small quiet">
              {say('call.usual_accuracy', { limit: reading.accuracy[prefs.units.value].text })}
            </p>
            <Field
              label={say('call.accuracy')}
              value={accuracy.value}
              name="accuracy"
              onInput={(t) => {
                accuracy.value = t;
                use.value = 'yes';
              }}
            />
            <Field
              label={say('call.instrument_name')}
              value={instrument.value}
              name="instrument"
              onInput={(t) => {
                instrument.value = t;
                use.value = 'yes';
              }}
            />
          </Disclosure>
        </>
      }
    >
      <p>
        {reading.place}
        {expected && <span class="quiet"> · {say('call.sound_range', { range: expected })}</span>}
      </p>
      {correct && <p class="small">{say('call.correcting', { value: String(correct.value) })}</p>}
      {reading.opens_circuit && (
        <p class="hazard strong">
          <Icon name="warn" /> {say('call.opens')}
        </p>
      )}
      {reading.hazard_text && (
        <p class="hazard">
          <Icon name="warn" /> <span>{reading.hazard_text}</span>
        </p>
      )}
    </AmountSheet>
  );
}
