// The common scale of the intervals and the value in one small picture, as per cent of its width.
export interface Range {
  low: number;
  mid?: number;
  high: number;
}

export interface Scale {
  at(value: number): number;
  low: number;
  high: number;
}

/** Room is left at both ends, so that a mark at the edge is whole. */
const margin = 6;

export function scaleOf(ranges: readonly Range[], values: readonly number[] = []): Scale {
  const all = [...ranges.flatMap((r) => [r.low, r.high]), ...values].filter(Number.isFinite);
  const low = Math.min(...all);
  const high = Math.max(...all);
  const span = high - low;
  return {
    low,
    high,
    at: (value) => (span > 0 ? margin + ((value - low) / span) * (100 - 2 * margin) : 50),
  };
}
