// One place of the repair: a step's own screen, with its cautions above and what can be said of it below.
import { Button, Notice } from '../../../parts/parts';
import { href } from '../../../shell/route';
import type { OpenCall } from '../../../store/store';
import { say, type Key } from '../../../words/words';
import { Steps } from '../answer/next';
import { followed } from '../live_answer';
import { StepCautions } from './answer_view';
import { DoneScreen } from './done_screen';
import { nextOpen } from './plan';
import { ProcedureScreen } from './procedure_screen';
import { procedures } from './procedures';
import { RecordScreen } from './record_screen';
import { StepFoot } from './step_acts';
import { usePlan, type ShownStep } from './use_plan';
import './repair.css';

/** Reckoners that a repair may want where its plan doesn't have them. */
export const beside = ['tube', 'bring', 'worth'] as const;
/** What has a place of its own whatever the plan says. */
const known: ReadonlySet<string> = new Set([...beside, 'done_work', 'record']);

/** The question settled first: the readings that tell most. */
function Settle({ call }: { call: OpenCall }) {
  const { answer } = followed(call).live.value;
  if (!answer) return <p class="quiet">{say('shell.working')}</p>;
  return (
    <>
      <Steps answer={answer} callId={call.id} />
      <Button wide href={href({ room: 'call', id: call.id, stage: 'answer' })} name="to-answer">
        {say('answer.do_to_answer')}
      </Button>
    </>
  );
}

function Inside({
  call,
  part,
  step,
  waiting,
}: {
  call: OpenCall;
  part: string;
  step: ShownStep | undefined;
  waiting: boolean;
}) {
  const planned = step?.cautions ?? [];
  const procedure = procedures.get(step?.procedure ?? part);
  if (procedure) return <ProcedureScreen call={call} procedure={procedure} planned={planned} />;
  if (part === 'record') return <RecordScreen call={call} />;
  if (part === 'settle') return <Settle call={call} />;
  if (part !== 'done_work' && !step && waiting) return <p class="quiet">{say('shell.working')}</p>;
  if (part !== 'done_work' && !step) return <Notice tone="warn">{say('repair.no_step')}</Notice>;
  return (
    <>
      <StepCautions lines={planned} />
      <DoneScreen call={call} {...(part === 'recover' ? { kinds: ['refrigerant_moved'] } : {})} />
    </>
  );
}

export function RepairPart({ call, part }: { call: OpenCall; part: string }) {
  const { steps, busy } = usePlan(call);
  const step = steps.find((s) => s.key === part);
  const title = step?.title ?? (known.has(part) ? say(`repair.step_${part}` as Key) : say('repair.plan'));
  return (
    <div class="repair-part">
      <h2>{title}</h2>
      {step?.why && <p>{step.why}</p>}
      <Inside call={call} part={part} step={step} waiting={busy} />
      <StepFoot
        call={call}
        step={step}
        next={nextOpen(steps, (key) => steps.find((s) => s.key === key)!.state)}
      />
    </div>
  );
}
