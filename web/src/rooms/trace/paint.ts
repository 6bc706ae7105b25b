// How a state of the machine is painted: a colour, a pattern and a letter, so that none of the three tells it alone.
import type { TraceAnswer } from '../../engine/engine';
import { say } from '../../words/words';

export type State = TraceAnswer['phases'][number]['state'];

interface Look {
  /** a colour of theme/tokens.css */
  colour: string;
  pattern: 'none' | 'rising' | 'falling' | 'upright' | 'level' | 'crossed';
}
const looks: Record<State, Look> = {
  off: { colour: '--edge', pattern: 'none' },
  start: { colour: '--focus', pattern: 'upright' },
  running: { colour: '--accent', pattern: 'rising' },
  not_pumping: { colour: '--bad', pattern: 'crossed' },
  overload: { colour: '--bad', pattern: 'level' },
  defrost: { colour: '--warn', pattern: 'falling' },
};

export const letterOf = (state: State): string => say(`trace.letter_${state}`);

export const token = (name: string): string =>
  getComputedStyle(document.documentElement).getPropertyValue(name).trim();

const lines: Record<Look['pattern'], readonly (readonly [number, number, number, number])[]> = {
  none: [],
  rising: [
    [-2, 2, 2, -2],
    [0, 8, 8, 0],
    [6, 10, 10, 6],
  ],
  falling: [
    [-2, 6, 2, 10],
    [0, 0, 8, 8],
    [6, -2, 10, 2],
  ],
  upright: [[4, 0, 4, 8]],
  level: [[0, 4, 8, 4]],
  crossed: [
    [0, 0, 8, 8],
    [0, 8, 8, 0],
  ],
};

export interface Paint {
  /** the state's own colour, for a tint behind a curve */
  colour: string;
  fill: CanvasPattern | string;
}

/** Patterns of eight CSS pixels for a canvas that has `ratio` pixels to one of them. */
export function paints(ratio: number): Record<State, Paint> {
  const paint = ({ colour: name, pattern }: Look): Paint => {
    const colour = token(name);
    const tile = document.createElement('canvas');
    tile.width = tile.height = Math.round(8 * ratio);
    const pen = tile.getContext('2d')!;
    pen.scale(tile.width / 8, tile.height / 8);
    pen.fillStyle = token('--sheet');
    pen.fillRect(0, 0, 8, 8);
    pen.strokeStyle = colour;
    pen.lineWidth = 2;
    for (const [x, y, toX, toY] of lines[pattern]) {
      pen.beginPath();
      pen.moveTo(x, y);
      pen.lineTo(toX, toY);
      pen.stroke();
    }
    return { colour, fill: pen.createPattern(tile, 'repeat') ?? colour };
  };
  return Object.fromEntries(Object.entries(looks).map(([state, look]) => [state, paint(look)])) as Record<
    State,
    Paint
  >;
}
