// Who draws what, and what the page is told while shares arrive in any order, fail or are stopped.
import { expect, test } from 'vitest';
import { grow, plan, type Grown } from './grow';
import type { Hands, Wanted } from './hands';
import type { Done, Job } from './messages';

test('plans draw what is wanted, small ones first, each its own machines, and look at pairs', () => {
  for (const wanted of [10, 40, 160, 400])
    for (const drawers of [1, 2, 3, 8]) {
      const drawings = plan(wanted, drawers);
      expect(drawings.reduce((sum, d) => sum + d.population, 0)).toBe(wanted < 20 ? 20 : wanted);
      expect(new Set(drawings.map((d) => d.which)).size).toBe(drawings.length);
      expect(drawings[0]!.population).toBe(10);
      expect(drawings.some((d) => d.pairs)).toBe(true);
      expect(Math.max(...drawings.map((d) => d.population))).toBeLessThanOrEqual(45);
    }
});

/** Workers that do a job when told to. */
class FakeHands {
  drawers = 2;
  jobs: { job: Job; signal: AbortSignal; done(done: Done): void; failed(error: unknown): void }[] = [];
  draw = (wanted: Wanted) => this.take(wanted);
  pool = (wanted: Wanted) => this.take(wanted);
  private take({ job, signal }: Wanted): Promise<Done> {
    return new Promise((done, failed) => {
      this.jobs.push({ job, signal: signal!, done, failed });
      signal!.addEventListener('abort', () => failed(signal!.reason));
    });
  }
  drawn(which: number) {
    const at = this.jobs.findIndex(({ job }) => job.kind === 'draw' && job.which === which);
    this.jobs.splice(at, 1)[0]!.done({ text: which === 0 ? 'first' : '', share: new ArrayBuffer(which + 1) });
  }
  pooled(): number {
    const at = this.jobs.findIndex(({ job }) => job.kind === 'pool');
    const { job, done } = this.jobs.splice(at, 1)[0]!;
    done({ text: 'pooled', share: null });
    return job.kind === 'pool' ? job.shares.length : 0;
  }
}

const of = { id: 1, request: '{}', speech: { language: 'en', units: 'us' as const }, now: 0 };
const settle = () => new Promise((done) => setTimeout(done));

function start(hands: FakeHands, signal?: AbortSignal) {
  const heard: [string, Grown][] = [];
  const end = grow(hands as unknown as Hands, of, 70, (text, grown) => heard.push([text, grown]), { signal });
  return { heard, end };
}

test('the first share answers at once; the rest are pooled as they come; the last answer is final', async () => {
  const hands = new FakeHands();
  const { heard, end } = start(hands); // 10, 10 and 50 in two
  hands.drawn(0);
  await settle();
  expect(heard).toEqual([['first', { machines: 10, share: 10 / 70, final: false }]]);
  hands.drawn(1);
  await settle();
  hands.drawn(3); // while the first two are being pooled
  hands.drawn(2);
  await settle();
  expect(hands.pooled()).toBe(2);
  await settle();
  expect(hands.pooled()).toBe(2);
  await end;
  expect(heard.map(([, grown]) => grown.machines)).toEqual([10, 20, 70]);
  expect(heard.at(-1)![1]).toEqual({ machines: 70, share: 1, final: true });
});

test('nothing is told after it was stopped, and all work is given up', async () => {
  const hands = new FakeHands();
  const stop = new AbortController();
  const { heard, end } = start(hands, stop.signal);
  stop.abort();
  await expect(end).rejects.toHaveProperty('name', 'AbortError');
  expect(heard).toEqual([]);
  expect(hands.jobs.every(({ signal }) => signal.aborted)).toBe(true);
});

test('one that fails stops the others', async () => {
  const hands = new FakeHands();
  const { end } = start(hands);
  hands.jobs[1]!.failed(new Error('trap'));
  await expect(end).rejects.toThrow('trap');
  expect(hands.jobs[0]!.signal.aborted).toBe(true);
});
