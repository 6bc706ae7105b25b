// The drawing as the place where a reading is added. Over each part lies a button with what it reads: actual beside
// what a sound machine shows.
import type { Entry } from '../../../store/store';
import { say, sayCount } from '../../../words/words';
import type { Against } from './fold';
import { MachinePicture, type Condenser } from './machine_picture';
import { Mark } from './mark';

/** One line at a part: what is read there, what it reads, what a sound machine would show. */
export interface Line {
  what: string;
  label: string;
  actual: string | null;
  expected: string | null;
  is: Against | null;
}
export interface Spot {
  part: string;
  label: string;
  lines: Line[];
  /** The one reading of this part, or null: then a sheet asks which. */
  only: string | null;
  name: string;
}

/** Where each part's button lies: left or right half, top and height in the drawing's 580. */
const spots: Record<string, { side: 'left' | 'right'; top: number; height: number }> = {
  evaporator: { side: 'left', top: 0, height: 148 },
  box: { side: 'right', top: 0, height: 148 },
  suction_line: { side: 'left', top: 150, height: 132 },
  drier_liquid_line: { side: 'right', top: 150, height: 122 },
  compressor: { side: 'left', top: 284, height: 180 },
  condenser: { side: 'right', top: 274, height: 116 },
  discharge_line: { side: 'right', top: 392, height: 90 },
  supply: { side: 'left', top: 466, height: 110 },
  ambient: { side: 'right', top: 484, height: 92 },
};
export const drawnParts = Object.keys(spots);

const rank = (line: Line) => (line.is === 'above' || line.is === 'below' ? 0 : line.actual ? 1 : 2);

function SpotButton({ spot, onTap }: { spot: Spot; onTap: () => void }) {
  const at = spots[spot.part]!;
  const ordered = [...spot.lines].sort((a, b) => rank(a) - rank(b));
  const taken = ordered.filter((l) => l.actual);
  const room = Math.max(1, Math.floor((at.height - 34) / 44));
  const shown = taken.length > 0 ? taken.slice(0, room) : ordered.slice(0, 1);
  const more = spot.lines.length - shown.length;
  return (
    <button
      type="button"
      class={`spot ${at.side}`}
      style={{ top: `${(at.top / 580) * 100}%`, height: `${(at.height / 580) * 100}%` }}
      data-name={spot.name}
      onClick={onTap}
    >
      <span class="part">{spot.label}</span>
      {shown.map((l) => (
        <span class="line" key={l.what}>
          {l.actual ? (
            <strong class={`actual ${l.is ?? ''}`}>
              {l.is && <Mark is={l.is} />}
              <span>{l.actual}</span>
            </strong>
          ) : (
            <span class="empty">
              <span class="empty-label">{spot.lines.length > 1 ? l.label : ''}</span> +
            </span>
          )}
          {l.expected && (
            <span class="range">
              <span class="spoken">{say('call.sound')}</span> {l.expected}
            </span>
          )}
        </span>
      ))}
      {more > 0 && <span class="more">{sayCount('call.more', more)}</span>}
      <span class="spoken">{say('call.add_reading')}</span>
    </button>
  );
}

export function Drawing({
  condenser,
  evaporatorFan,
  list,
  onTap,
}: {
  condenser: Condenser;
  evaporatorFan: boolean;
  list: readonly Spot[];
  onTap: (spot: Spot) => void;
}) {
  return (
    <div class="drawing" role="group" aria-label={say('call.drawing')}>
      <MachinePicture condenser={condenser} evaporatorFan={evaporatorFan} />
      {list.map((spot) => (
        <SpotButton key={spot.part} spot={spot} onTap={() => onTap(spot)} />
      ))}
    </div>
  );
}

export const textOf = (entry: Entry | undefined, field: string) =>
  entry?.[field] === undefined ? null : String(entry[field]);
