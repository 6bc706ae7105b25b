// The two ways beside each other: how likely what it really was had become after each step, over the minutes that
// the steps took. Solid and round is the apprentice's, dashed and square the best one; an opening is a triangle.
import { useRef } from 'preact/hooks';
import type { UseCases } from '../../engine/engine';
import { usePictureWidth } from '../../parts/picture';
import { number, say } from '../../words/words';

type Path = UseCases['practice_debrief']['answer']['yours'];

const height = 180;
const edge = { left: 48, right: 16, top: 12, bottom: 26 };

/** A round number of minutes between marks, six marks at most. */
export function minuteStep(longest: number): number {
  return [1, 2, 5, 10, 15, 30, 60, 120].find((s) => longest / s <= 6) ?? 240;
}

const minutes = (m: number) => `${number(m)} min`;

interface Point {
  minutes: number;
  truth: number;
  opens: boolean;
}
export function pointsOf(path: Path): Point[] {
  return [
    { minutes: 0, truth: path.truth_at_start, opens: false },
    ...path.steps.map((s) => ({ minutes: s.minutes_used.value!, truth: s.truth, opens: s.opens_circuit })),
  ];
}

export function Timeline({ yours, best, label }: { yours: Path; best: Path; label: string }) {
  const place = useRef<HTMLDivElement>(null);
  const width = Math.max(260, usePictureWidth(place));
  const ways = [
    { name: 'yours', points: pointsOf(yours) },
    { name: 'best', points: pointsOf(best) },
  ];
  const longest = Math.max(5, ...ways.flatMap((w) => w.points.map((p) => p.minutes)));
  const step = minuteStep(longest);
  const x = (m: number) => edge.left + ((width - edge.left - edge.right) * m) / longest;
  const y = (p: number) => edge.top + (height - edge.top - edge.bottom) * (1 - p);
  const marks = Array.from({ length: Math.floor(longest / step) + 1 }, (_, i) => i * step);
  return (
    <figure class="timeline" ref={place}>
      <svg viewBox={`0 0 ${width} ${height}`} role="img" aria-label={say('practice.picture_said', { label })}>
        {[0, 0.5, 1].map((p) => (
          <g key={p}>
            <path class="grid" d={`M${edge.left} ${y(p)}H${width - edge.right}`} />
            <text class="tick" x={edge.left - 5} y={y(p) + 4} text-anchor="end">
              {number(p * 100)} %
            </text>
          </g>
        ))}
        {marks.map((m) => (
          <g key={m}>
            <path class="grid" d={`M${x(m)} ${y(0)}v4`} />
            <text class="tick" x={x(m)} y={height - 8} text-anchor="middle">
              {m === 0 ? m : minutes(m)}
            </text>
          </g>
        ))}
        {ways.map(({ name, points }) => (
          <path
            key={name}
            class={`way ${name}`}
            d={points
              .map((p, i) => (i === 0 ? `M${x(p.minutes)} ${y(p.truth)}` : `H${x(p.minutes)}V${y(p.truth)}`))
              .join('')}
          />
        ))}
        {ways.flatMap(({ name, points }) =>
          points.slice(1).map((p, i) => {
            const [cx, cy] = [x(p.minutes), y(p.truth)];
            return p.opens ? (
              <path key={`${name}${i}`} class={`dot ${name} opens`} d={`M${cx} ${cy - 8}l8 14h-16z`} />
            ) : name === 'yours' ? (
              <circle key={`${name}${i}`} class={`dot ${name}`} cx={cx} cy={cy} r={7} />
            ) : (
              <rect
                key={`${name}${i}`}
                class={`dot ${name}`}
                x={cx - 4.5}
                y={cy - 4.5}
                width={9}
                height={9}
              />
            );
          }),
        )}
      </svg>
      <figcaption class="small">
        <p>{say('practice.picture', { label })}</p>
        <ul class="legend">
          <li class="yours">{say('practice.yours')}</li>
          <li class="best">{say('practice.best')}</li>
          <li class="opens">{say('practice.opening')}</li>
        </ul>
      </figcaption>
    </figure>
  );
}
