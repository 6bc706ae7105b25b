// Which worker does what, and what becomes of one that breaks or whose job nobody wants any more.
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { Hands } from './hands';
import type { FromWorker, Job, ToWorker } from './messages';

class FakeWorker {
  static all: FakeWorker[] = [];
  onmessage: ((event: { data: FromWorker }) => void) | null = null;
  onerror: ((event: { message: string }) => void) | null = null;
  jobs: { id: number; job: Job }[] = [];
  ended = false;
  constructor() {
    FakeWorker.all.push(this);
  }
  postMessage(message: ToWorker) {
    if (message.kind === 'open') void Promise.resolve().then(() => this.ended || this.say({ kind: 'ready' }));
    if (message.kind === 'job') this.jobs.push(message);
  }
  terminate() {
    this.ended = true;
  }
  done(text: string) {
    this.say({ kind: 'done', id: this.jobs.at(-1)!.id, text, share: null });
  }
  say(data: FromWorker) {
    this.onmessage!({ data });
  }
}

const ask = (name: string): Job => ({
  kind: 'ask',
  name,
  request: '{}',
  speech: { language: 'en', units: 'us' },
});
const of = { id: 1, request: '{}', speech: { language: 'en', units: 'us' as const }, now: 0 };
const draw = (which: number): Job => ({
  kind: 'draw',
  of,
  which,
  population: 10,
  pairs: false,
  answer: false,
});
const settle = () => vi.advanceTimersByTimeAsync(0);

let hands: Hands;
beforeEach(async () => {
  vi.useFakeTimers();
  FakeWorker.all = [];
  vi.stubGlobal('Worker', FakeWorker);
  hands = new Hands(async () => ({}) as WebAssembly.Module, 2);
  await settle();
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

test('a question does not wait behind drawings', async () => {
  expect(FakeWorker.all).toHaveLength(3);
  for (const which of [0, 1, 2]) void hands.draw({ job: draw(which) });
  await settle();
  expect(FakeWorker.all.map((w) => w.jobs.length)).toEqual([0, 1, 1]);
  const answer = hands.ask({ job: ask('saturation') }, false);
  await settle();
  FakeWorker.all[0]!.done('{"ok":1}');
  expect((await answer).text).toBe('{"ok":1}');
  // A long question goes to those who draw, before the drawing that waits.
  void hands.ask({ job: ask('expect') }, true);
  await settle();
  FakeWorker.all[1]!.done('');
  await settle();
  expect(FakeWorker.all[1]!.jobs.at(-1)!.job).toMatchObject({ name: 'expect' });
});

test('a worker that breaks is replaced, its question rejected, and the next one answered', async () => {
  const lost = hands.ask({ job: ask('leak') }, false);
  await settle();
  const broken = FakeWorker.all[0]!;
  broken.say({ kind: 'broke', id: broken.jobs[0]!.id, why: 'unreachable' });
  await expect(lost).rejects.toThrow('unreachable');
  expect(broken.ended).toBe(true);
  const next = hands.ask({ job: ask('leak') }, false);
  await settle();
  expect(FakeWorker.all).toHaveLength(4);
  FakeWorker.all[3]!.done('fine');
  expect((await next).text).toBe('fine');
});

test('a job nobody wants is dropped at once, and its worker replaced when it goes on for long', async () => {
  const stop = new AbortController();
  const dropped = hands.draw({ job: draw(0), signal: stop.signal });
  await settle();
  stop.abort();
  await expect(dropped).rejects.toHaveProperty('name', 'AbortError');
  expect(FakeWorker.all[1]!.ended).toBe(false);
  await vi.advanceTimersByTimeAsync(1000);
  expect(FakeWorker.all[1]!.ended).toBe(true);
  expect(FakeWorker.all).toHaveLength(4);
});

test('one that ends in time stays, and what waits in the queue is not begun when unwanted', async () => {
  const stop = new AbortController();
  const all = [0, 1, 2].map((which) => hands.draw({ job: draw(which), signal: stop.signal }));
  all.forEach((one) => one.catch(() => {}));
  await settle();
  stop.abort();
  FakeWorker.all[1]!.done('');
  FakeWorker.all[2]!.done('');
  await vi.advanceTimersByTimeAsync(1000);
  expect(FakeWorker.all.some((w) => w.ended)).toBe(false);
  expect(FakeWorker.all.map((w) => w.jobs.length)).toEqual([0, 1, 1]);
});

test('a core that could not be fetched is fetched again with the next question', async () => {
  let tries = 0;
  const flaky = new Hands(async () => {
    if (++tries === 1) throw new Error('offline');
    return {} as WebAssembly.Module;
  }, 1);
  await settle();
  FakeWorker.all = [];
  const answer = flaky.ask({ job: ask('leak') }, false);
  await settle();
  FakeWorker.all[0]!.done('fine');
  expect((await answer).text).toBe('fine');
});

test('where workers do not start the question is rejected and nothing is tried over and over', async () => {
  FakeWorker.all = [];
  const sick = new Hands(async () => ({}) as WebAssembly.Module, 1);
  const answer = sick.ask({ job: ask('leak') }, false);
  answer.catch(() => {});
  vi.stubGlobal(
    'Worker',
    class extends FakeWorker {
      override postMessage() {
        void Promise.resolve().then(() => this.onerror!({ message: 'blocked' }));
      }
    },
  );
  await settle();
  await expect(answer).rejects.toThrow('blocked');
  await settle();
  expect(FakeWorker.all.length).toBeLessThanOrEqual(4);
});
