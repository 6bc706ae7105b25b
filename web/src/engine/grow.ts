// A diagnosis shared out over the workers: first a small drawing in each, so that there is an answer soon, then
// larger ones that look at pairs of causes too, until as many machines are drawn as one diagnosis in one go would.
// How shares pool: docs/theory/diagnosis.md.
import type { Hands } from './hands';
import type { Growing } from './messages';

/** How far a diagnosis has grown: machines drawn per cause, and the share of those wanted, 0 to 1. */
export interface Grown {
  machines: number;
  share: number;
  final: boolean;
}

/** diagnosis::Options::population, where the request doesn't say. */
export const usualPopulation = 160;

const first = 10; // machines per cause: the fewest that say anything
const then = 30; // small enough to be stopped between, large enough that finding the likeliest machines pays

export interface Drawing {
  which: number;
  population: number;
  pairs: boolean;
}

/** Who draws what: the sum is what is wanted, and at least one looks at pairs. */
export function plan(wanted: number, drawers: number): Drawing[] {
  const small = Math.max(1, Math.min(drawers, Math.floor((wanted - then) / first)));
  const left = Math.max(wanted - small * first, first);
  const rounds = Math.max(1, Math.round(left / then));
  const drawings: Drawing[] = [];
  for (let i = 0; i < small; ++i) drawings.push({ which: i, population: first, pairs: false });
  for (let i = 0; i < rounds; ++i)
    drawings.push({
      which: small + i,
      population: Math.floor(left / rounds) + (i < left % rounds ? 1 : 0),
      pairs: true,
    });
  return drawings;
}

export async function grow(
  hands: Hands,
  of: Growing,
  wanted: number,
  onAnswer: (text: string, grown: Grown) => void,
  options: { signal?: AbortSignal | undefined; onProgress?: ((share: number) => void) | undefined },
): Promise<void> {
  const drawings = plan(wanted, hands.drawers);
  const total = drawings.reduce((sum, drawing) => sum + drawing.population, 0);
  // One that fails stops the others.
  const stop = new AbortController();
  const signal = options.signal ? AbortSignal.any([options.signal, stop.signal]) : stop.signal;

  let waiting: ArrayBuffer[] = [];
  let drawn = 0; // machines of all shares that arrived
  let shown = 0; // machines of the answer last given
  let pooling: Promise<void> | null = null;
  const show = (text: string, machines: number) => {
    signal.throwIfAborted();
    shown = machines;
    onAnswer(text, { machines, share: machines / total, final: machines === total });
  };
  // What arrives while shares are being pooled goes together into the next answer.
  const pool = async () => {
    while (waiting.length > 0) {
      const shares = waiting;
      const machines = drawn;
      waiting = [];
      const job = { kind: 'pool' as const, of, shares };
      show((await hands.pool({ job, signal })).text, machines);
    }
    pooling = null;
  };
  const draw = async ({ which, population, pairs }: Drawing) => {
    const job = { kind: 'draw' as const, of, which, population, pairs, answer: which === 0 };
    const { text, share } = await hands.draw({ job, signal });
    signal.throwIfAborted();
    if (share === null) return show(text, 0); // a Problem, told as any answer
    drawn += population;
    waiting.push(share);
    if (which === 0 && shown === 0 && drawn === population) return show(text, drawn);
    options.onProgress?.(drawn / total);
    pooling ??= pool();
    await pooling;
  };
  try {
    await Promise.all(drawings.map(draw));
  } catch (error) {
    stop.abort(error);
    throw error;
  }
}
