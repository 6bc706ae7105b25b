// What a trace says: what was used and set aside, the plot, figures with their intervals, phases and events with how
// sure each is.
import { useMemo, useState } from 'preact/hooks';
import type { ComponentChildren } from 'preact';
import type { TraceAnswer } from '../../engine/engine';
import { Button, Disclosure, Notice } from '../../parts/parts';
import { number, say, sayCount } from '../../words/words';
import { shareText } from '../call/answer/group';
import { RestsOn } from '../handy/tool';
import { PlotView, StateMark } from './plot_view';
import { laneOf, type View } from './window';

type Phase = TraceAnswer['phases'][number];

const atFirst = 8; // about what a phone shows at once
const atATime = 100; // more only when asked for again: rows cost a phone time

/** "every 10 s", "every 5 min". */
const every = (s: number) =>
  s < 120 ? `${number(Math.round(s * 10) / 10)} s` : `${number(Math.round(s / 6) / 10)} min`;

/** The lanes of the plot, the one that running was told from first. */
function lanesOf(answer: TraceAnswer) {
  const telling = answer.method?.column;
  return answer.series
    .filter((s) => s.points.length > 1)
    .map((s) => ({ label: s.label, unit: s.unit, column: s.column, lane: laneOf(s.points) }))
    .sort((a, b) => Number(b.column === telling) - Number(a.column === telling))
    .map((l, _, all) => ({
      ...l,
      // Two of a kind are told apart by their headings.
      label: all.filter((o) => o.label === l.label).length > 1 ? `${l.label} (${l.column})` : l.label,
    }));
}
/** What was just before and after: as much again as it took, of what took no time two minutes. */
const around = (from: number, to: number): View => {
  const edge = Math.max(60, (to - from) / 2);
  return { from: from - edge, to: to + edge };
};

/** The first few, and the rest when asked for; a day's log has hundreds. */
function Some<T>({ list, row }: { list: readonly T[]; row: (one: T, i: number) => ComponentChildren }) {
  const [most, setMost] = useState(atFirst);
  return (
    <>
      <ul class="finding-list">{list.slice(0, most).map(row)}</ul>
      {list.length > most && (
        <button type="button" class="button wide" onClick={() => setMost(most + atATime)} data-name="more">
          {say('trace.more', { n: list.length - most })}
        </button>
      )}
    </>
  );
}

function PhaseRow({ phase, show }: { phase: Phase; show: (view: View) => void }) {
  const spread = (phase.from_high - phase.from_low) / 2; // when it began, nine in ten
  return (
    <li>
      <button type="button" class="finding" onClick={() => show(around(phase.from, phase.to))}>
        <StateMark state={phase.state} label={phase.label} />
        <strong class="number">
          {phase.lasts}
          {!phase.whole && ' +'}
        </strong>
        <span class="quiet small">
          {phase.from_text}
          {spread > 1 && ` ± ${every(spread)}`}
        </span>
        <span class="quiet small number">{say('trace.sure', { p: shareText(phase.probability) })}</span>
      </button>
    </li>
  );
}

/** "Defrost for 15 min." needs no "Defrost" before it. */
const saysItself = (e: TraceAnswer['events'][number]) =>
  e.text.toLocaleLowerCase().startsWith(e.label.toLocaleLowerCase());

/** Several rows then make one moment. */
const oneValueARow = (layout: TraceAnswer['files'][number]['layout']) =>
  layout.columns.some((c) => c.what === 'sensor_name');

function Used({ answer }: { answer: TraceAnswer }) {
  const aside = answer.set_aside;
  const counted = aside.reduce((sum, a) => sum + a.count, 0);
  return (
    <section class="stack" aria-label={say('trace.used')}>
      <ul class="stack">
        {answer.files.map((f) => (
          <li key={f.name} data-name="used">
            <strong data-own-words>{f.name}</strong>
            <p class="small">
              {say(oneValueARow(f.layout) ? 'trace.used_moments' : 'trace.used_rows', {
                used: number(f.used),
                rows: number(f.rows),
                from: f.from_text,
                to: f.to_text,
                every: every(f.interval),
              })}
            </p>
          </li>
        ))}
      </ul>
      {aside.length === 0 ? (
        <p class="small quiet">{say('trace.none_aside')}</p>
      ) : (
        <Disclosure summary={sayCount('trace.aside', counted)}>
          <ul class="stack small" data-name="set-aside">
            {aside.map((a, i) => (
              <li key={i} data-reason={a.reason}>
                {answer.files.length > 1 && <span data-own-words>{answer.files[a.file]?.name}: </span>}
                {a.text}
              </li>
            ))}
          </ul>
        </Disclosure>
      )}
    </section>
  );
}

export function AnswerView({
  answer,
  dots,
  children,
}: {
  answer: TraceAnswer;
  /** A handful of values taken by hand; without phases they are drawn where they were typed already. */
  dots?: boolean;
  /** what can be done with it, below the plot */
  children?: ComponentChildren;
}) {
  const [view, setView] = useState<View | null>(null);
  const [all, setAll] = useState(false);
  const lanes = useMemo(() => lanesOf(answer), [answer]);
  const main = answer.files.find((f) => f.main);
  const whole = Math.max(1, ...lanes.map((l) => l.lane.at.at(-1) ?? 0), main?.seconds ?? 0);
  const told = answer.statements.filter((s) => s.text);
  return (
    <div class="trace-answer stack" data-name="trace-answer">
      <Used answer={answer} />
      {answer.phases.length === 0 && (
        <Notice tone="warn">
          {told.length > 0 ? told.map((s) => <p key={s.text}>{s.text}</p>) : <p>{say('trace.no_phases')}</p>}
        </Notice>
      )}
      {lanes.length > 0 && !(dots && answer.phases.length === 0) && (
        <PlotView
          lanes={lanes}
          bands={answer.phases}
          start={main?.start ?? null}
          whole={whole}
          dots={dots ?? false}
          wanted={view}
        />
      )}
      {children}
      {answer.figures.length > 0 && (
        <section class="stack" aria-label={say('trace.figures')}>
          <h2>{say('trace.figures')}</h2>
          <dl class="figures" data-name="figures">
            {answer.figures.slice(0, all ? Infinity : atFirst).map((f) => (
              <div key={f.key + f.column}>
                <dt>
                  {f.label}
                  {answer.series.length > 1 && f.column && (
                    <span class="quiet small" data-own-words>
                      {' '}
                      · {f.column}
                    </span>
                  )}
                </dt>
                <dd>{f.text}</dd>
              </div>
            ))}
          </dl>
          {!all && answer.figures.length > atFirst && (
            <Button wide onPress={() => setAll(true)} name="more-figures">
              {say('trace.more', { n: answer.figures.length - atFirst })}
            </Button>
          )}
        </section>
      )}
      {answer.events.length > 0 && (
        <section class="stack" aria-label={say('trace.events')}>
          <h2>{sayCount('trace.event', answer.event_count)}</h2>
          <Some
            list={answer.events}
            row={(e, i) => (
              <li key={i}>
                <button
                  type="button"
                  class="finding event"
                  onClick={() => setView(around(e.from, e.to))}
                  data-name={`event:${e.event}`}
                >
                  <span>
                    {!saysItself(e) && <strong>{e.label}</strong>} {e.text}
                  </span>
                  <span class="quiet small">{e.from_text}</span>
                  <span class="quiet small number">{say('trace.sure', { p: shareText(e.probability) })}</span>
                </button>
              </li>
            )}
          />
        </section>
      )}
      {answer.phases.length > 0 && (
        <section class="stack" aria-label={say('trace.phases')} data-name="phases">
          <h2>{sayCount('trace.phase', answer.phase_count)}</h2>
          <p class="quiet small">{say('trace.tap_phase')}</p>
          <Some list={answer.phases} row={(p, i) => <PhaseRow key={i} phase={p} show={setView} />} />
        </section>
      )}
      {answer.phases.length > 0 && told.length > 0 && (
        <Disclosure summary={say('trace.how')}>
          {told.map((s) => (
            <p key={s.text} class="small">
              {s.text}
            </p>
          ))}
        </Disclosure>
      )}
      <RestsOn about={answer.about} />
    </div>
  );
}
