// The readings worth taking next: what each costs, tells and can do to a hand; and what would turn the verdict.
import { Disclosure } from '../../../parts/parts';
import { Icon } from '../../../parts/icon';
import { number, say, sayCount } from '../../../words/words';
import type { Answer } from '../live_answer';
import { shareText } from './group';
import { RestsLink } from './rests_on';
import { tellsText } from './weigh';
import { toTake } from './why';

type Step = Answer['next'][number];
const most = 5;

function cost(step: Step): string {
  const parts = [sayCount('answer.minutes', Math.max(1, Math.round(step.minutes)))];
  if (step.grams_lost > 0) parts.push(say('answer.grams', { n: number(step.grams_lost, 1) }));
  return parts.join(' · ');
}

function StepRow({ step, callId }: { step: Step; callId: string }) {
  return (
    <li>
      <a
        class="step"
        data-name={`next-${step.subject}`}
        {...toTake(callId, { kind: step.kind, subject: step.subject })}
      >
        <span class="named">
          <strong>{step.label}</strong>
          <span class="go" aria-hidden="true">
            ›
          </span>
        </span>
        <span class="small">
          {cost(step)} · {tellsText(step.bits)}
        </span>
        {step.opens_circuit ? (
          <span class="opens">
            <Icon name="warn" />
            <strong>{say('answer.opens')}</strong>
          </span>
        ) : (
          <span class="small quiet">{say('answer.opens_not')}</span>
        )}
        {step.hazard_text && (
          <span class="hazard small">
            <Icon name="warn" />
            <span>{step.hazard_text}</span>
          </span>
        )}
      </a>
    </li>
  );
}

export function Steps({ answer, callId }: { answer: Answer; callId: string }) {
  const first = answer.next.slice(0, most);
  const more = answer.next.slice(most);
  if (first.length === 0) return <p>{say('answer.next_none')}</p>;
  return (
    <>
      <ol class="steps">
        {first.map((s) => (
          <StepRow key={s.subject} step={s} callId={callId} />
        ))}
      </ol>
      {more.length > 0 && (
        <Disclosure summary={sayCount('answer.next_more', more.length)}>
          <ol class="steps" start={most + 1}>
            {more.map((s) => (
              <StepRow key={s.subject} step={s} callId={callId} />
            ))}
          </ol>
        </Disclosure>
      )}
    </>
  );
}

export function Next({ answer, callId }: { answer: Answer; callId: string }) {
  return (
    <section class="stack" aria-label={say('answer.next')} data-name="next">
      <h2>{say('answer.next')}</h2>
      <p class="small quiet">{say('answer.next_note')}</p>
      <RestsLink part="next" />
      <Steps answer={answer} callId={callId} />
    </section>
  );
}

export function Turnings({ answer }: { answer: Answer }) {
  return (
    <section class="stack" aria-label={say('answer.turnings')}>
      <h2>{say('answer.turnings')}</h2>
      {answer.turnings.length === 0 ? (
        <p>{say('answer.turnings_none')}</p>
      ) : (
        <ul class="reasons stack">
          {answer.turnings.map((t) => (
            <li key={t.reading + t.swaps + t.second}>
              {t.text} {!t.already_read && say('answer.turning_chance', { chance: shareText(t.chance) })}
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

export function Cautions({ answer }: { answer: Answer }) {
  if (answer.cautions.length === 0) return null;
  return (
    <section class="cautions stack" aria-label={say('answer.cautions')}>
      <h2>
        <Icon name="warn" /> {say('answer.cautions')}
      </h2>
      <ul class="reasons stack">
        {answer.cautions.map((c) => (
          <li key={c.key + c.text}>{c.text}</li>
        ))}
      </ul>
    </section>
  );
}
