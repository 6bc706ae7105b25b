// The answer: what is wrong, how sure that is, why, what nobody measured, and what to read next. It grows and
// changes while the call does.
import { useEffect, useState } from 'preact/hooks';
import type { OpenCall } from '../../../store/store';
import { say } from '../../../words/words';
import { followed, type Live } from '../live_answer';
import { Causes, Doubts, Remarked } from './causes';
import { CyclePicture } from './cycle';
import { Cautions, Next, Turnings } from './next';
import { RestsOn } from './rests_on';
import { Failed, Growth, Missing } from './status';
import { Unseen } from './unseen';
import { Why } from './why';
import './answer.css';

/** What a screen reader is told: the settled answer, once, not every step on the way. */
function Said({ live }: { live: Live }) {
  const [text, setText] = useState('');
  const lead = live.answer?.causes[0];
  const settledText =
    lead && live.grown?.final && !live.stale
      ? say(live.answer!.quality.trustworthy ? 'answer.said' : 'answer.said_unsure', {
          label: lead.label,
          share: lead.probability_text,
          words: lead.in_words,
        })
      : null;
  useEffect(() => {
    if (settledText) setText(settledText);
  }, [settledText]);
  return (
    <p class="spoken" role="status">
      {text}
    </p>
  );
}

export function AnswerStage({ call }: { call: OpenCall }) {
  const { live, again } = followed(call);
  const now = live.value;
  const { answer, grown } = now;
  const rough = !grown?.final;
  return (
    <>
      <Said live={now} />
      {now.problem && <Missing problem={now.problem} call={call} />}
      {now.failed !== null && <Failed text={now.failed} onAgain={again} />}
      {!now.problem && <Growth live={now} />}
      {answer && (
        <div
          class={`answer${now.stale ? ' stale' : ''}`}
          aria-busy={now.busy}
          data-name="answer"
          data-final={now.grown?.final && !now.stale ? 'true' : 'false'}
        >
          <Doubts answer={answer} rough={rough} />
          <Causes answer={answer} rough={rough} />
          <Remarked answer={answer} rough={rough} />
          <Why answer={answer} callId={call.id} />
          <Cautions answer={answer} />
          <Next answer={answer} callId={call.id} />
          <Turnings answer={answer} />
          <Unseen answer={answer} />
          <CyclePicture call={call} answer={answer} moving={rough || now.stale} />
          <RestsOn answer={answer} />
        </div>
      )}
    </>
  );
}
