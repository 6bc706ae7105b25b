// The plan of the repair: one big row a step, ticked at the left, opened by the rest; put in another order or
// passed over by hand.
import { useState } from 'preact/hooks';
import { Icon } from '../../../parts/icon';
import { Button, Notice } from '../../../parts/parts';
import { href } from '../../../shell/route';
import type { OpenCall } from '../../../store/store';
import { say, sayCount } from '../../../words/words';
import { worded } from '../../handy/problems';
import { moved, nextOpen, orderChange, stepChange } from './plan';
import { Skipped, SkipSheet } from './step_acts';
import { usePlan, type ShownStep } from './use_plan';
import './repair.css';

function Row({
  call,
  step,
  place,
  all,
  isNext,
  arranging,
}: {
  call: OpenCall;
  step: ShownStep;
  place: number;
  all: readonly ShownStep[];
  isNext: boolean;
  arranging: boolean;
}) {
  const [skipping, setSkipping] = useState(false);
  const done = step.state === 'done';
  const keys = all.map((s) => s.key);
  const move = (by: -1 | 1) => void call.add(orderChange(call.standing.peek(), moved(keys, step.key, by)));
  return (
    <li class={`plan-step ${step.state}${isNext ? ' next' : ''}`} data-name={`step:${step.key}`}>
      <div class="line">
        <label class="tick">
          <input
            type="checkbox"
            checked={done}
            data-name={`tick:${step.key}`}
            aria-label={say('repair.tick', { step: step.title })}
            onChange={() => void call.add(stepChange(step.key, step.entry, done ? 'open' : 'done'))}
          />
          <span class="box" aria-hidden="true">
            {done ? <Icon name="tick" /> : <span class="place">{place}</span>}
          </span>
        </label>
        <a
          href={href({ room: 'call', id: call.id, stage: 'do', part: step.key })}
          data-name={`open:${step.key}`}
        >
          <strong>{step.title}</strong>
          <span class="small quiet">
            {isNext ? say('repair.state_next') : say(`repair.state_${step.state}`)}
            {step.why && ` · ${step.why}`}
          </span>
        </a>
      </div>
      {step.state === 'skipped' && <Skipped call={call} step={step} />}
      {arranging && (
        <div class="row acts">
          <Button
            icon="up"
            label={say('repair.move_up', { step: step.title })}
            disabled={place === 1}
            onPress={() => move(-1)}
            name={`up:${step.key}`}
          />
          <Button
            icon="down"
            label={say('repair.move_down', { step: step.title })}
            disabled={place === all.length}
            onPress={() => move(1)}
            name={`down:${step.key}`}
          />
          {step.state === 'open' && step.skippable && (
            <Button kind="bare" onPress={() => setSkipping(true)} name={`skip:${step.key}`}>
              {say('call.skip')}
            </Button>
          )}
        </div>
      )}
      {skipping && <SkipSheet call={call} step={step} onClose={() => setSkipping(false)} />}
    </li>
  );
}

export function RepairPlan({ call }: { call: OpenCall }) {
  const { steps, problem, busy } = usePlan(call);
  const [arranging, setArranging] = useState(false);
  const next = nextOpen(steps, (key) => steps.find((s) => s.key === key)!.state);
  const open = steps.filter((s) => s.state === 'open').length;
  return (
    <section class="stack" aria-label={say('repair.plan')} data-name="plan">
      <div class="plan-top">
        <h2>{say('repair.plan')}</h2>
        <button
          type="button"
          class="button bare"
          aria-pressed={arranging}
          data-name="arrange"
          onClick={() => setArranging(!arranging)}
        >
          <Icon name={arranging ? 'tick' : 'swap'} />
          {say(arranging ? 'repair.arranged' : 'repair.arrange')}
        </button>
      </div>
      {problem && <Notice tone="warn">{worded(problem)}</Notice>}
      {steps.length === 0 && busy && <p class="quiet">{say('shell.working')}</p>}
      <p class="small quiet" hidden={steps.length === 0}>
        {open > 0 ? sayCount('repair.steps_open', open) : say('repair.steps_closed')}
      </p>
      <ol class="plan">
        {steps.map((s, i) => (
          <Row
            key={s.key}
            call={call}
            step={s}
            place={i + 1}
            all={steps}
            isNext={s === next}
            arranging={arranging}
          />
        ))}
      </ol>
    </section>
  );
}

/** One tap from the answer to where the work stands. */
export function ToNextStep({ call }: { call: OpenCall }) {
  const { steps } = usePlan(call);
  const next = nextOpen(steps, (key) => steps.find((s) => s.key === key)!.state);
  if (!next) return null;
  return (
    <Button
      kind="main"
      wide
      icon="steps"
      href={href({ room: 'call', id: call.id, stage: 'do', part: next.key })}
      name="to-next-step"
    >
      {say('call.on_to', { stage: next.title })}
    </Button>
  );
}
