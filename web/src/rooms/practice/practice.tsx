// Practice: a call with a hidden fault on an invented machine. Level, then the machine, then the debrief; which of
// them shows follows from what is kept.
import { useSignal } from '@preact/signals';
import { Button, Notice, Sheet } from '../../parts/parts';
import { Frame } from '../../shell/frame';
import { useAsk } from '../../shell/use_ask';
import { say } from '../../words/words';
import { worded } from '../handy/problems';
import { Debrief } from './debrief';
import { Machine } from './machine';
import { anySeed, begin, levels, standing, throwAway } from './standing';
import './practice.css';

function Start() {
  const { answer } = useAsk('practice_call', { seed: 1 });
  const recorded = answer?.recorded_calls ?? [];
  return (
    <Frame title={say('practice.title')} back={{ room: 'calls' }}>
      <p>{say('practice.what')}</p>
      <ul class="stack">
        {levels.map((level) => (
          <li key={level}>
            <button
              type="button"
              class="button wide level"
              data-name={`level:${level}`}
              onClick={() => begin({ seed: anySeed(), level })}
            >
              <strong>{say(`practice.${level}`)}</strong>
              <span class="quiet small">{say(`practice.${level}_is`)}</span>
            </button>
          </li>
        ))}
        {recorded.length > 0 && (
          <li>
            <button
              type="button"
              class="button wide level"
              data-name="level:recorded"
              onClick={() => begin({ recorded: recorded[anySeed() % recorded.length]! })}
            >
              <strong>{say('practice.recorded')}</strong>
              <span class="quiet small">{say('practice.recorded_is')}</span>
            </button>
          </li>
        )}
      </ul>
      <Notice tone="warn">
        <p>{say('practice.not_real')}</p>
      </Notice>
    </Frame>
  );
}

/** In the header: the practice call can be thrown away, once that is confirmed. */
export function ThrowAway({ done }: { done: boolean }) {
  const asking = useSignal(false);
  return (
    <>
      <Button
        icon="trash"
        kind="bare"
        label={say('practice.throw_away')}
        onPress={() => (done ? throwAway() : (asking.value = true))}
        name="throw-away"
      />
      {asking.value && (
        <Sheet title={say('practice.throw_away')} onClose={() => (asking.value = false)}>
          <p>{say('practice.throw_away_sure')}</p>
          <Button kind="danger" wide onPress={throwAway} name="throw-away-sure">
            {say('practice.throw_away')}
          </Button>
          <Button wide onPress={() => (asking.value = false)}>
            {say('practice.keep')}
          </Button>
        </Sheet>
      )}
    </>
  );
}

/** What is kept can't be answered, by another version of the data for instance: say so, and offer the way out. */
export function Stuck({ problem }: { problem: Parameters<typeof worded>[0] }) {
  return (
    <>
      <Notice tone="bad">{worded(problem)}</Notice>
      <Button wide onPress={throwAway} name="throw-away-stuck">
        {say('practice.throw_away')}
      </Button>
    </>
  );
}

export function Practice() {
  const now = standing();
  if (now === null) return <Start />;
  return now.decision === null ? <Machine now={now} /> : <Debrief now={now} decision={now.decision} />;
}
