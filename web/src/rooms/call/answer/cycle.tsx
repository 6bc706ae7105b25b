// The pressure-enthalpy picture: a sound machine's cycle and this one's as inferred, with the same in numbers.
// The core draws it; its colours are this page's (cycle.css), so that it follows the theme.
import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks';
import { Disclosure } from '../../../parts/parts';
import { prefs } from '../../../shell/prefs';
import { useAsk } from '../../../shell/use_ask';
import { say } from '../../../words/words';
import type { UseCases } from '../../../engine/engine';
import type { OpenCall } from '../../../store/store';
import type { Answer } from '../live_answer';
import { Mark } from './interval_picture';
import './cycle.css';

type Chart = UseCases['chart']['answer'];
type Request = UseCases['chart']['request'];

/** One unit of the drawing in pixels of the page: its smallest words, 9 units, are then 12 px. */
const unit = 1.33;

/** The drawing as an element of this page, without anything that could bring a style or a script along. */
export function pictureOf(svg: string): SVGElement | null {
  const root = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
  if (root.localName !== 'svg') return null;
  root.querySelectorAll('style, script, foreignObject').forEach((e) => e.remove());
  // Shown by the page's own heading and figure; a title of its own would pop up under a finger.
  root.querySelectorAll('title').forEach((e) => e.remove());
  root.setAttribute('aria-labelledby', 'chart-desc');
  return document.importNode(root, true) as unknown as SVGElement;
}

function Picture({ svg, waiting }: { svg: string; waiting: boolean }) {
  const box = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    const picture = pictureOf(svg);
    box.current?.replaceChildren(...(picture ? [picture] : []));
  }, [svg]);
  return <div ref={box} class={`chart-box${waiting ? ' stale' : ''}`} data-name="cycle-picture" />;
}

function States({ chart }: { chart: Chart }) {
  return (
    <>
      {chart.cycles.map((cycle, i) => (
        <table key={cycle.role} class="states">
          <caption>{cycle.label}</caption>
          <thead>
            <tr>
              <th scope="col">{say('answer.place')}</th>
              <th scope="col">{say('answer.pressure')}</th>
              <th scope="col">{say('answer.temperature')}</th>
            </tr>
          </thead>
          <tbody>
            {cycle.states.map((s, n) => (
              <tr key={s.place}>
                <th scope="row">
                  {i === chart.cycles.length - 1 && <strong>{n + 1} </strong>}
                  {s.label}
                </th>
                <td class="number">{s.pressure.text}</td>
                <td class="number">{s.temperature.text}</td>
              </tr>
            ))}
          </tbody>
        </table>
      ))}
      {chart.points.length > 0 && (
        <table class="states">
          <caption>{say('answer.readings')}</caption>
          <thead>
            <tr>
              <th scope="col">{say('answer.place')}</th>
              <th scope="col">{say('answer.pressure')}</th>
              <th scope="col">{say('answer.temperature')}</th>
            </tr>
          </thead>
          <tbody>
            {chart.points.map((p, n) => (
              <tr key={p.label}>
                <th scope="row">
                  <strong>{String.fromCharCode(97 + n)} </strong>
                  <Mark against={p.against_sound} /> {p.label}
                </th>
                <td class="number">{p.pressure.text}</td>
                <td class="number">{p.temperature.text}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </>
  );
}

const roles = ['sound', 'inferred'] as const;
const shapes = ['within', 'above', 'below', 'unknown'] as const;

interface Props {
  call: OpenCall;
  answer: Answer;
  /** More machines are coming, or the answer is from before a change: a picture already there stays. */
  moving: boolean;
}

/** The question for the drawing of this very answer; nothing is reckoned anew for it. */
function requestFor(call: OpenCall, { unseen, evidence, about }: Answer, width: number): Request {
  return {
    call: call.file() as Request['call'],
    units: prefs.units.value,
    diagnosis: { unseen, evidence, about },
    diagram: 'enthalpy',
    picture_width: Math.max(220, width),
  };
}

export function CyclePicture({ call, answer, moving }: Props) {
  const section = useRef<HTMLElement>(null);
  const [width, setWidth] = useState(0);
  const [near, setNear] = useState(false);
  // Drawn only when it comes near the screen.
  useEffect(() => {
    const place = section.current!;
    const measure = () => setWidth(Math.round(Math.min(place.clientWidth, 640) / unit / 10) * 10);
    measure();
    const size = new ResizeObserver(measure);
    size.observe(place);
    const sight = new IntersectionObserver((seen) => seen.some((s) => s.isIntersecting) && setNear(true), {
      rootMargin: '300px',
    });
    sight.observe(place);
    return () => {
      size.disconnect();
      sight.disconnect();
    };
  }, []);
  const kept = useRef<Chart | null>(null);
  const wait = !near || width === 0 || (moving && kept.current !== null);
  const asked = useAsk('chart', wait ? null : requestFor(call, answer, width));
  if (asked.answer) kept.current = asked.answer;
  const chart = kept.current;
  return (
    <section class="stack cycle" ref={section} aria-label={say('answer.cycle')}>
      <h2>{say('answer.cycle')}</h2>
      {asked.problem ? (
        <p>{asked.problem.text}</p>
      ) : chart ? (
        <>
          <p class="small quiet">{say('answer.cycle_note')}</p>
          <Picture svg={chart.svg} waiting={moving} />
          <ul class="chart-key small">
            {roles
              .filter((role) => chart.cycles.some((c) => c.role === role))
              .map((role) => (
                <li key={role}>
                  <svg class="chart" width="40" height="12" aria-hidden="true">
                    <path class={`way-${role}`} d="M2 6H38" />
                  </svg>
                  {chart.cycles.find((c) => c.role === role)?.label}
                </li>
              ))}
            <li>
              <svg class="chart" width="40" height="12" aria-hidden="true">
                <path class="bubble" d="M2 6H38" />
              </svg>
              {say('answer.dome')}
            </li>
            {shapes
              .filter((against) => chart.points.some((p) => p.enthalpy && p.against_sound === against))
              .map((against) => (
                <li key={against}>
                  <Mark against={against} />
                  {say(`answer.point_${against}`)}
                </li>
              ))}
          </ul>
          {chart.remarks.map((text) => (
            <p key={text} class="small">
              {text}
            </p>
          ))}
          <Disclosure summary={say('answer.cycle_numbers')}>
            <States chart={chart} />
          </Disclosure>
        </>
      ) : (
        <p class="chart-box quiet">{say('answer.drawing')}</p>
      )}
    </section>
  );
}
