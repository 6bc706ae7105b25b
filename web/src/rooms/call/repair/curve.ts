// A curve of an answer as rows for the plot: one time axis for all lines, gaps where a line says nothing.
import type { Curve } from './answer_types';

export interface Columns {
  x: number[];
  lines: (number | null)[][];
}

export function columnsOf(curve: Curve): Columns {
  const x = [...new Set(curve.lines.flatMap((l) => l.points.map((p) => p[0])))].sort((a, b) => a - b);
  const place = new Map(x.map((value, i) => [value, i]));
  const lines = curve.lines.map((line) => {
    const column: (number | null)[] = x.map(() => null);
    for (const [at, value] of line.points) column[place.get(at)!] = value;
    return column;
  });
  return { x, lines };
}

/** The pairs of lines, by place, between which a band lies: the first low with the first high, and so on. */
export function bandsOf(curve: Curve): [number, number][] {
  const places = (kind: string) => curve.lines.flatMap((l, i) => (l.kind === kind ? [i] : []));
  const high = places('high');
  return places('low').flatMap((low, i): [number, number][] =>
    high[i] === undefined ? [] : [[high[i], low]],
  );
}
