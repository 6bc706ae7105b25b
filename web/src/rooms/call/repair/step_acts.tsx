// What can be said of a step: done, passed over with a reason, open again. A tick is a reminder of what was done
// and says nothing about what is left in the machine.
import { useState } from 'preact/hooks';
import { Button } from '../../../parts/parts';
import { href } from '../../../shell/route';
import type { OpenCall } from '../../../store/store';
import { say } from '../../../words/words';
import { ReasonSheet } from '../reason_sheet';
import { stepChange } from './plan';
import type { ShownStep } from './use_plan';

const reasons = ['not_needed', 'done_before', 'no_tool'] as const;

export function SkipSheet({ call, step, onClose }: { call: OpenCall; step: ShownStep; onClose: () => void }) {
  return (
    <ReasonSheet
      title={say('repair.skip_title', { step: step.title })}
      draft={`${call.id}.skip.${step.key}`}
      reasons={reasons.map((key) => ({ key, text: say(`repair.reason_${key}`) }))}
      onClose={onClose}
      onSave={(reason) => {
        void call.add(stepChange(step.key, step.entry, 'skipped', reason));
        onClose();
      }}
    />
  );
}

/** Why a step was passed over, and the way back. */
export function Skipped({ call, step }: { call: OpenCall; step: ShownStep }) {
  return (
    <p class="skipped-step small">
      <span>
        {say('repair.skipped')} <span data-own-words>{String(step.entry?.reason ?? '')}</span>
      </span>
      <Button kind="bare" onPress={() => void call.add(stepChange(step.key, step.entry, 'open'))}>
        {say('call.skip_back')}
      </Button>
    </p>
  );
}

/** At the end of a step's screen, within the thumb's reach. */
export function StepFoot({
  call,
  step,
  next,
}: {
  call: OpenCall;
  step: ShownStep | undefined;
  next: ShownStep | null;
}) {
  const [skipping, setSkipping] = useState(false);
  if (!step) return null;
  const set = (state: 'open' | 'done') => void call.add(stepChange(step.key, step.entry, state));
  return (
    <footer class="step-foot">
      {step.state === 'skipped' && <Skipped call={call} step={step} />}
      {step.state === 'done' ? (
        <>
          {next && (
            <Button
              kind="main"
              wide
              href={href({ room: 'call', id: call.id, stage: 'do', part: next.key })}
              name="next-step"
            >
              {say('call.on_to', { stage: next.title })}
            </Button>
          )}
          <Button wide icon="undo" onPress={() => set('open')} name="step-open">
            {say('repair.open_again')}
          </Button>
        </>
      ) : (
        <>
          <Button kind="main" wide icon="tick" onPress={() => set('done')} name="step-done">
            {say('repair.step_done')}
          </Button>
          {step.state === 'open' && step.skippable && (
            <Button wide kind="bare" onPress={() => setSkipping(true)} name="step-skip">
              {say('call.skip')}
            </Button>
          )}
        </>
      )}
      {skipping && <SkipSheet call={call} step={step} onClose={() => setSkipping(false)} />}
    </footer>
  );
}
