// The ranked causes: the first large, those that still count beneath it, all others together.
import { useLayoutEffect, useRef } from 'preact/hooks';
import { Bar, Disclosure, Notice } from '../../../parts/parts';
import { say, sayCount } from '../../../words/words';
import type { Answer } from '../live_answer';
import { RestsLink } from './rests_on';
import { grouped, isClose, isPair, settled, type Cause } from './group';

function Remarks({ of }: { of: Answer['remarks'] }) {
  return (
    <>
      {of.map((r) => (
        <p key={r.key + r.text}>{r.text}</p>
      ))}
    </>
  );
}

/**
 * What must be known before the percentages are read: above them. Of a rough answer its tag says so, and the rest
 * stands beneath, so that the page doesn't jump when it is gone a moment later.
 */
export function Doubts({ answer, rough }: { answer: Answer; rough: boolean }) {
  return (
    <>
      {answer.evidence.length === 0 && (
        <Notice tone="warn">
          <p>{say('answer.only_prior')}</p>
        </Notice>
      )}
      {!answer.quality.trustworthy && !rough && (
        <Notice tone="bad">
          <p>
            <strong>{say('answer.untrustworthy')}</strong>
          </p>
          <Remarks of={answer.quality.remarks} />
        </Notice>
      )}
    </>
  );
}

/** What was assumed and how finely the numbers are meant: beneath them. */
export function Remarked({ answer, rough }: { answer: Answer; rough: boolean }) {
  const ofQuality = answer.quality.trustworthy || rough ? answer.quality.remarks : [];
  const remarks = [...ofQuality, ...answer.remarks];
  return remarks.length > 0 ? (
    <Notice>
      <Remarks of={remarks} />
    </Notice>
  ) : null;
}

function Severity({ cause }: { cause: Cause }) {
  return cause.severity_text ? (
    <p class="small">{say('answer.if_so', { severity: cause.severity_text })}</p>
  ) : null;
}

interface LeadProps {
  cause: Cause;
  next: Cause | undefined;
  rough: boolean;
  sure: boolean;
}

function Lead({ cause, next, rough, sure }: LeadProps) {
  return (
    <li class={`lead panel${sure ? '' : ' unsure'}`} data-cause={cause.cause} data-name="lead">
      {isPair(cause) && <p class="small quiet">{say('answer.two_at_once')}</p>}
      <h2>{cause.label}</h2>
      <p class="verdict">
        <span class="share number">{cause.probability_text}</span>{' '}
        <span class="in-words">{cause.in_words}</span>{' '}
        {(rough || !sure) && (
          <span class="tag" data-name="rough">
            {say(rough ? 'answer.tag_rough' : 'answer.tag_unsure')}
          </span>
        )}
      </p>
      <Bar share={cause.probability} label={cause.label} />
      <Severity cause={cause} />
      {cause.probability < 0.5 && <p>{say('answer.no_majority')}</p>}
      {next && isClose(cause, next) && <p>{say('answer.close_call', { other: next.label })}</p>}
    </li>
  );
}

function Other({ cause }: { cause: Cause }) {
  return (
    <li class="other" data-cause={cause.cause} data-name="other">
      <p class="named">
        <span>{cause.label}</span>
        <span class="number">{cause.probability_text}</span>
      </p>
      <Bar share={cause.probability} label={cause.label} />
      <p class="small">
        <span class="quiet">
          {cause.in_words}
          {isPair(cause) && ` · ${say('answer.two_at_once')}`}
        </span>
      </p>
      <Severity cause={cause} />
    </li>
  );
}

/** Rows that change places glide there, unless the person wants no motion. */
function useGliding(order: string) {
  const list = useRef<HTMLUListElement>(null);
  const tops = useRef(new Map<string, number>());
  useLayoutEffect(() => {
    const still = matchMedia('(prefers-reduced-motion: reduce)').matches;
    const now = new Map<string, number>();
    for (const row of list.current?.querySelectorAll<HTMLElement>('[data-cause]') ?? []) {
      const cause = row.dataset.cause!;
      now.set(cause, row.offsetTop);
      const moved = (tops.current.get(cause) ?? row.offsetTop) - row.offsetTop;
      if (moved !== 0 && !still)
        row.animate([{ transform: `translateY(${moved}px)` }, { transform: 'none' }], {
          duration: 240,
          easing: 'ease-out',
        });
    }
    tops.current = now;
  }, [order]);
  return list;
}

export function Causes({ answer, rough }: { answer: Answer; rough: boolean }) {
  const before = useRef<string[]>([]);
  const ordered = settled(before.current, answer.causes, !rough);
  before.current = ordered.map((c) => c.cause);
  const { lead, others, rest, restShare, restText } = grouped(ordered);
  const list = useGliding([lead, ...others].map((c) => c?.cause).join(' '));
  if (!lead) return null;
  return (
    <section class="stack causes" aria-label={say('answer.causes')}>
      <ul class="stack" ref={list}>
        <Lead
          key={lead.cause}
          cause={lead}
          next={others[0]}
          rough={rough}
          sure={answer.quality.trustworthy}
        />
        {others.map((c) => (
          <Other key={c.cause} cause={c} />
        ))}
      </ul>
      {rest.length > 0 && (
        <Disclosure
          summary={
            <span class="named">
              <span>{sayCount('answer.others_together', rest.length)}</span>
              <span class="number">{restText}</span>
            </span>
          }
        >
          <Bar share={restShare} label={sayCount('answer.others_together', rest.length)} />
          <ul class="rest small">
            {rest.map((c) => (
              <li key={c.cause} class="named">
                <span>{c.label}</span>
                <span class="number">{c.probability_text}</span>
              </li>
            ))}
          </ul>
        </Disclosure>
      )}
      <RestsLink part="percent" />
    </section>
  );
}
