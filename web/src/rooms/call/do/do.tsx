// What to do: the answer in short, cautions where the hand acts, the plan of the repair, what still to read, what
// is left to the technician, and the record to take along.
import { Button, Disclosure, Notice } from '../../../parts/parts';
import { href } from '../../../shell/route';
import type { OpenCall } from '../../../store/store';
import { say } from '../../../words/words';
import { Doubts, Remarked } from '../answer/causes';
import { grouped } from '../answer/group';
import { Cautions, Steps } from '../answer/next';
import { Failed, Growth, Missing } from '../answer/status';
import { followed, type Answer } from '../live_answer';
import { RepairPlan, ToNextStep } from '../repair/plan_list';
import { beside } from '../repair/repair_part';
import { usePlan } from '../repair/use_plan';
import { takeFile } from '../take_file';
import { Summary } from './summary';
import '../answer/answer.css';
import './do.css';

/** Below this no cause is called likely, and none is put forward to act on. */
const likely = 0.6;
/** A reading that tells less isn't worth holding up the work. */
const worthIt = 0.1;

function SoFar({ answer, callId, rough }: { answer: Answer; callId: string; rough: boolean }) {
  const { lead, others } = grouped(answer.causes);
  if (!lead) return null;
  return (
    <section class="stack" aria-label={say('answer.do_so_far')}>
      <h2>{say('answer.do_so_far')}</h2>
      <Doubts answer={answer} rough={rough} />
      <ul class="so-far stack">
        {[lead, ...others].map((c) => (
          <li key={c.cause}>
            <p class="named">
              <strong>
                {c.label} {rough && c === lead && <span class="tag">{say('answer.tag_rough')}</span>}
              </strong>
              <span class="number">{c.probability_text}</span>
            </p>
            <p class="small quiet">
              {c.in_words}
              {c.severity_text && ` · ${say('answer.if_so', { severity: c.severity_text })}`}
            </p>
          </li>
        ))}
      </ul>
      <Remarked answer={answer} rough={rough} />
      {lead.probability < likely && <Notice tone="warn">{say('answer.do_open_question')}</Notice>}
      <Button href={href({ room: 'call', id: callId, stage: 'answer' })} name="to-answer">
        {say('answer.do_to_answer')}
      </Button>
    </section>
  );
}

function Settle({ answer, callId }: { answer: Answer; callId: string }) {
  const telling = answer.next.some((s) => s.bits >= worthIt);
  return (
    <section class="stack" aria-label={say('answer.do_settle')}>
      <h2>{say('answer.do_settle')}</h2>
      <p>{say(telling ? 'answer.do_settle_note' : 'answer.do_settled')}</p>
      {telling ? (
        <Steps answer={answer} callId={callId} />
      ) : (
        answer.next.length > 0 && (
          <Disclosure summary={say('answer.next')}>
            <Steps answer={answer} callId={callId} />
          </Disclosure>
        )
      )}
    </section>
  );
}

/** What is written down of the work at any time, and what may be reckoned beside the steps. */
function Beside({ call }: { call: OpenCall }) {
  const { steps } = usePlan(call);
  const others = beside.filter((part) => !steps.some((s) => s.key === part));
  const to = (part: string) => href({ room: 'call', id: call.id, stage: 'do', part });
  return (
    <section class="beside" aria-label={say('repair.beside')}>
      <Button wide icon="list" href={to('done_work')} name="to-done-work">
        {say('repair.step_done_work')}
      </Button>
      <Disclosure summary={say('repair.beside')}>
        {others.map((part) => (
          <Button key={part} wide href={to(part)} name={`to-${part}`}>
            {say(`repair.step_${part}`)}
          </Button>
        ))}
      </Disclosure>
    </section>
  );
}

export function DoStage({ call }: { call: OpenCall }) {
  const { live, again } = followed(call);
  const now = live.value;
  const { answer } = now;
  return (
    <>
      <div class="do-screen">
        {now.problem && <Missing problem={now.problem} call={call} />}
        {now.failed !== null && <Failed text={now.failed} onAgain={again} />}
        {!now.problem && <Growth live={now} />}
        {answer ? (
          <div class={`answer${now.stale ? ' stale' : ''}`} aria-busy={now.busy}>
            <SoFar answer={answer} callId={call.id} rough={!now.grown?.final} />
            <ToNextStep call={call} />
            <Cautions answer={answer} />
          </div>
        ) : (
          now.problem && <p>{say('answer.do_no_answer')}</p>
        )}
        <RepairPlan call={call} />
        <Beside call={call} />
        {answer && <Settle answer={answer} callId={call.id} />}
        <section class="stack" aria-label={say('answer.do_left')}>
          <h2>{say('answer.do_left')}</h2>
          <ul class="reasons stack">
            <li>{say('answer.do_left_right')}</li>
            <li>{say('answer.do_left_law')}</li>
          </ul>
        </section>
        <section class="stack" aria-label={say('answer.do_record')}>
          <h2>{say('answer.do_record')}</h2>
          <p class="small quiet">{say('answer.do_record_note')}</p>
          <Button kind="main" wide icon="share" onPress={() => void takeFile(call)} name="take-file">
            {say('call.take_file')}
          </Button>
          <Button wide icon="list" onPress={() => print()} name="print">
            {say('answer.do_print')}
          </Button>
          <Disclosure summary={say('answer.sum_title')}>
            <Summary call={call} live={now} />
          </Disclosure>
        </section>
      </div>
      {/* On paper this stands alone, whether it was unfolded or not. */}
      <div class="paper">
        <Summary call={call} live={now} />
      </div>
    </>
  );
}
