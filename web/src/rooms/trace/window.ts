// What of a series is drawn in a stretch of time: least and most of each bucket, so that no peak is lost and the
// plot never draws more than its pixels.

/** A series as the core thins it: time, least, most; the times rise. */
export interface Lane {
  at: Float64Array;
  low: Float64Array;
  high: Float64Array;
  /** a step longer than this has nothing between */
  gap: number;
  least: number;
  most: number;
}

export function laneOf(points: readonly (readonly number[])[]): Lane {
  const column = (i: number) => Float64Array.from(points, (p) => p[i]!);
  const [at, low, high] = [column(0), column(1), column(2)];
  const steps = at
    .slice(1)
    .map((t, i) => t - at[i]!)
    .sort();
  // As the core tells gaps: five usual steps and a minute.
  const gap = Math.max(60, 5 * (steps[steps.length >> 1] ?? 0));
  let [least, most] = [Infinity, -Infinity];
  for (let i = 0; i < at.length; ++i) {
    least = Math.min(least, low[i]!);
    most = Math.max(most, high[i]!);
  }
  return { at, low, high, gap, least, most };
}

/** The first index whose time is `t` or later. */
export function firstAt(at: Float64Array, t: number): number {
  let [low, high] = [0, at.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (at[middle]! < t) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** The line to draw from `from` to `to`, one point beyond either end; null where there is a gap. */
export function windowOf(
  lane: Lane,
  from: number,
  to: number,
  buckets: number,
): [number[], (number | null)[]] {
  const { at, low, high, gap } = lane;
  const begin = Math.max(0, firstAt(at, from) - 1);
  const end = Math.min(at.length, firstAt(at, to) + 1);
  const xs: number[] = [];
  const ys: (number | null)[] = [];
  const stride = Math.max(1, Math.ceil((end - begin) / buckets));
  let before = NaN; // time of the sample before
  let last = 0; // the value drawn last: the nearer of the two follows it
  for (let i = begin; i < end;) {
    if (at[i]! - before > gap) {
      xs.push((at[i]! + before) / 2);
      ys.push(null);
    }
    let [least, most] = [low[i]!, high[i]!];
    const first = i;
    const stop = Math.min(end, i + stride);
    for (++i; i < stop && at[i]! - at[i - 1]! <= gap; ++i) {
      least = Math.min(least, low[i]!);
      most = Math.max(most, high[i]!);
    }
    before = at[i - 1]!;
    const x = (at[first]! + before) / 2;
    const up = Math.abs(least - last) <= Math.abs(most - last);
    xs.push(x);
    ys.push(up ? least : most);
    if (least !== most) {
      xs.push(x);
      ys.push(up ? most : least);
    }
    last = ys.at(-1)!;
  }
  return [xs, ys];
}

/** The middle of what stands nearest to `t`; null when nothing stands within a gap of it. */
export function valueAt(lane: Lane, t: number): number | null {
  const i = firstAt(lane.at, t);
  let best = -1;
  for (const j of [i - 1, i])
    if (j >= 0 && j < lane.at.length)
      if (best < 0 || Math.abs(lane.at[j]! - t) < Math.abs(lane.at[best]! - t)) best = j;
  if (best < 0 || Math.abs(lane.at[best]! - t) > lane.gap) return null;
  return (lane.low[best]! + lane.high[best]!) / 2;
}

export interface View {
  from: number;
  to: number;
}

/** `view` moved or stretched so that it stays within 0 and `whole` and never gets shorter than `least`. */
export function within(view: View, whole: number, least: number): View {
  const length = Math.min(whole, Math.max(least, view.to - view.from));
  const middle = (view.from + view.to) / 2;
  const from = Math.min(Math.max(0, middle - length / 2), whole - length);
  return { from, to: from + length };
}

/** `view` stretched by `by` around the time `at`: below one it comes nearer. */
export function stretched(view: View, at: number, by: number): View {
  return { from: at - (at - view.from) * by, to: at + (view.to - at) * by };
}
