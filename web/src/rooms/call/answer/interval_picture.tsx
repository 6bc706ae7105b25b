// A small picture: ranges on one line, and a mark where a value stands. The words beside it say the same, so it
// is hidden from a screen reader.
import { scaleOf, type Range } from './scale';

export type Against = 'below' | 'within' | 'above' | 'unknown';

/** Shape tells it as colour does: triangle up or down when off, a ring within, a diamond when not compared. */
const shapes: Record<Against, string> = {
  above: 'M0 -8L8 6H-8Z',
  below: 'M0 8L8 -6H-8Z',
  within: 'M-6 0a6 6 0 1 0 12 0a6 6 0 1 0 -12 0',
  unknown: 'M0 -7L7 0L0 7L-7 0Z',
};

export function Mark({ against }: { against: Against }) {
  return (
    <svg class="mark-alone" viewBox="-10 -10 20 20" aria-hidden="true">
      <path class={`mark-shape ${against}`} d={shapes[against]} />
    </svg>
  );
}

export interface Band extends Range {
  look: 'sound' | 'here';
}

const percent = (n: number) => `${n.toFixed(2)}%`;
const row = 22;

export function IntervalPicture({
  bands,
  value,
  against = 'unknown',
}: {
  bands: readonly Band[];
  value?: number;
  against?: Against;
}) {
  const scale = scaleOf(bands, value === undefined ? [] : [value]);
  const height = Math.max(1, bands.length) * row;
  return (
    <svg class="interval-picture" width="100%" height={height} aria-hidden="true">
      {bands.map((band, i) => {
        const y = i * row + row / 2;
        const from = scale.at(band.low);
        const wide = Math.max(scale.at(band.high) - from, 0.8);
        return (
          <g key={band.look}>
            <line class="track" x1="0" x2="100%" y1={y} y2={y} />
            <rect
              class={`band ${band.look}`}
              x={percent(from)}
              width={percent(wide)}
              y={y - 6}
              height="12"
              rx="3"
            />
            {band.mid !== undefined && (
              <line
                class={`mid ${band.look}`}
                x1={percent(scale.at(band.mid))}
                x2={percent(scale.at(band.mid))}
                y1={y - 6}
                y2={y + 6}
              />
            )}
          </g>
        );
      })}
      {value !== undefined && (
        <svg x={percent(scale.at(value))} y={height / 2} overflow="visible">
          <path class={`mark-shape ${against}`} d={shapes[against]} />
        </svg>
      )}
    </svg>
  );
}
