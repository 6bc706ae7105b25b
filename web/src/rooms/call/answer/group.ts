// Which causes stand by themselves, which are folded together, and in which order while the answer grows.
import type { Answer } from '../live_answer';

export type Cause = Answer['causes'][number];

/** Below this a cause is folded in with the others. */
export const least = 0.02;
const mostRows = 8;

export interface Grouped {
  lead: Cause | null;
  others: Cause[];
  rest: Cause[];
  /** Probability of all in `rest` together. */
  restShare: number;
  restText: string;
}

export function grouped(causes: readonly Cause[]): Grouped {
  const [lead = null, ...more] = causes;
  const shown = more.filter((c) => c.probability >= least).slice(0, mostRows);
  const rest = more.filter((c) => !shown.includes(c));
  const restShare = rest.reduce((sum, c) => sum + c.probability, 0);
  const error = Math.hypot(...rest.map((c) => c.error));
  return { lead, others: shown, rest, restShare, restText: shareText(restShare, error) };
}

/** A share rounded no finer than its error allows, and never to "0 %" or "100 %"; as the core rounds the causes. */
export function shareText(share: number, error = 0): string {
  const step = [1, 2, 5, 10, 20].find((s) => 100 * error <= s) ?? 20;
  const percent = 100 * share;
  if (percent < step) return `<${step} %`;
  if (percent > 100 - step) return `>${100 - step} %`;
  return `${step * Math.round(percent / step)} %`;
}

/**
 * The causes in the order they were shown in, while the numbers still move: a cause passes the one before it
 * only by more than their joint error. The final answer stands in its own order.
 */
export function settled(before: readonly string[], causes: readonly Cause[], final: boolean): Cause[] {
  if (final || before.length === 0) return [...causes];
  const place = new Map(before.map((cause, i) => [cause, i]));
  const out = [...causes].sort(
    (a, b) => (place.get(a.cause) ?? Infinity) - (place.get(b.cause) ?? Infinity) || 0,
  );
  // Newcomers had no place: they keep the core's order among themselves, at the end, and rise from there.
  for (let i = 1; i < out.length; ++i)
    for (let j = i; j > 0; --j) {
      const above = out[j - 1]!;
      const here = out[j]!;
      if (here.probability - above.probability <= Math.hypot(here.error, above.error)) break;
      out[j - 1] = here;
      out[j] = above;
    }
  return out;
}

/** A pair: two faults at once. */
export const isPair = (cause: Cause) => cause.cause.includes('+');

/** Too close to call: another drawing of machines might well turn them round, or they are as good as even. */
export function isClose(first: Cause, second: Cause): boolean {
  const apart = first.probability - second.probability;
  return apart < 2 * Math.hypot(first.error, second.error) || second.probability > 0.8 * first.probability;
}
