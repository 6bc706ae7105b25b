// The call finished: said as a step of its own, and what it teaches of the unit and its model taken in.
import { useState } from 'preact/hooks';
import { ProblemError } from '../../../engine/engine';
import { Button, Notice } from '../../../parts/parts';
import { href } from '../../../shell/route';
import type { OpenCall } from '../../../store/store';
import { moment, say } from '../../../words/words';
import { worded } from '../../handy/problems';
import { learnFrom } from '../../settings/memory/learned';
import { stateOf, stepsOf } from '../read/fold';
import { stepChange } from './plan';

const finished = 'finished';

export function Finish({ call }: { call: OpenCall }) {
  const [state, setState] = useState<{ busy: boolean; told: readonly string[]; bad: boolean }>({
    busy: false,
    told: [],
    bad: false,
  });
  const step = stepsOf(call.standing.value).get(finished);
  const done = stateOf(step) === 'done';
  const finish = async () => {
    if (!done) await call.add(stepChange(finished, step, 'done'));
    setState({ busy: true, told: [], bad: false });
    try {
      const said = await learnFrom(call);
      setState({ busy: false, told: said.map((s) => s.text), bad: false });
    } catch (error) {
      if (!(error instanceof ProblemError)) throw error;
      setState({ busy: false, told: [worded(error.problem)], bad: true });
    }
  };
  return (
    <section class="stack" aria-label={say('repair.finish')} data-name="finish-section">
      <h3>{say('repair.finish')}</h3>
      {done && <p>{say('repair.finished_at', { when: moment(step!.at) })}</p>}
      <p class="small quiet">{say('repair.finish_note')}</p>
      {state.told.length > 0 && (
        <Notice tone={state.bad ? 'warn' : 'note'}>
          {state.told.map((t) => (
            <p key={t}>{t}</p>
          ))}
          <Button href={href({ room: 'settings', part: 'memory' })}>{say('settings.memory_open')}</Button>
        </Notice>
      )}
      <Button
        wide
        icon="tick"
        {...(done ? {} : { kind: 'main' as const })}
        disabled={state.busy}
        onPress={() => void finish()}
        name="finish"
      >
        {say(state.busy ? 'shell.working' : done ? 'repair.learn_again' : 'repair.finish_call')}
      </Button>
      {done && (
        <Button
          wide
          icon="undo"
          onPress={() => void call.add(stepChange(finished, step, 'open'))}
          name="unfinish"
        >
          {say('repair.unfinish')}
        </Button>
      )}
    </section>
  );
}
