// A reading taken again and again, as points over time.
import { split } from '../../../parts/keypad_text';
import type { Entry } from '../../../store/store';

export interface Point {
  at: number; // seconds since 1970
  value: number;
}
export interface Trace {
  points: Point[];
  unit: string;
}

/** "3 1/4" is 3.25; null for what is no number. */
export function numberOf(figure: string): number | null {
  const m = /^([-+−])?\s*(?:(\d+(?:[.,]\d*)?|[.,]\d+)(?:\s+|$))?(?:(\d+)\s*\/\s*(\d+))?$/u.exec(
    figure.trim(),
  );
  if (!m || (m[2] === undefined && m[3] === undefined)) return null;
  const whole = Number((m[2] ?? '0').replace(',', '.'));
  const part = m[3] === undefined ? 0 : Number(m[3]) / Number(m[4]);
  return (m[1] && m[1] !== '+' ? -1 : 1) * (whole + part);
}

export const plain = (unit: string) => unit.toLowerCase().replace(/[°\s().]/g, '');

/** Points of one unit; null where there are fewer than two, or a number stands in another unit than the rest:
    what can't be laid on one scale isn't drawn. */
export function traceOf(list: readonly Entry[]): Trace | null {
  const points: Point[] = [];
  let unit: string | null = null;
  for (const entry of list) {
    const said = split(String(entry.value ?? ''));
    const value = numberOf(said.figure);
    if (value === null) continue; // an open line has no height
    if (unit !== null && plain(unit) !== plain(said.unit)) return null;
    unit = said.unit;
    points.push({ at: Date.parse(entry.at) / 1000, value });
  }
  return points.length < 2 ? null : { points, unit: unit ?? '' };
}

/** The polyline of a trace in a box, time to the right; equal times stand beside each other. */
export function lineOf({ points }: Trace, width: number, height: number): string {
  const first = points[0]!.at;
  const span = points.at(-1)!.at - first;
  const values = points.map((p) => p.value);
  const low = Math.min(...values);
  const range = Math.max(...values) - low;
  return points
    .map((p, i) => {
      const x = span > 0 ? (p.at - first) / span : i / (points.length - 1);
      const y = range > 0 ? 1 - (p.value - low) / range : 0.5;
      return `${(x * width).toFixed(1)},${(y * height).toFixed(1)}`;
    })
    .join(' ');
}
