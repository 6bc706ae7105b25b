// The pressure-enthalpy picture: a sound machine's cycle and this one's as inferred, with the same in numbers.
// The core draws it.
import { useEffect, useRef, useState } from 'preact/hooks';
import { Disclosure } from '../../../parts/parts';
import { Picture, usePictureWidth } from '../../../parts/picture';
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

function Columns() {
  return (
    <thead>
      <tr>
        <th scope="col">{say('answer.place')}</th>
        <th scope="col">{say('answer.pressure')}</th>
        <th scope="col">{say('answer.temperature')}</th>
      </tr>
    </thead>
  );
}

function States({ chart }: { chart: Chart }) {
  return (
    <>
      {chart.cycles.map((cycle, i) => (
        <table key={cycle.role} class="states">
          <caption>{cycle.label}</caption>
          <Columns />
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
          <Columns />
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
    picture_width: width,
  };
}

export function CyclePicture({ call, answer, moving }: Props) {
  const section = useRef<HTMLElement>(null);
  const width = usePictureWidth(section);
  const [near, setNear] = useState(false);
  // Drawn only when it comes near the screen.
  useEffect(() => {
    const place = section.current!;
    const sight = new IntersectionObserver((seen) => seen.some((s) => s.isIntersecting) && setNear(true), {
      rootMargin: '300px',
    });
    sight.observe(place);
    return () => sight.disconnect();
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
          <Picture svg={chart.svg} waiting={moving} name="cycle-picture" />
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
