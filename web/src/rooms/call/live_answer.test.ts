// A fake engine answers when told to: what is shown while questions overtake each other, fail or come again.
import { effect, signal } from '@preact/signals';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { ProblemError, type Engine, type Grown } from '../../engine/engine';
import { follow, type Live, type Question } from './live_answer';

interface Asked {
  request: unknown;
  stop: AbortSignal;
  answer: (name: string, grown: Partial<Grown>) => void;
  end: () => void;
  fail: (error: unknown) => void;
}

function setUp() {
  const asked: Asked[] = [];
  const diagnose = ((
    request: unknown,
    onAnswer: (a: unknown, g: Grown) => void,
    options?: { signal?: AbortSignal },
  ) =>
    new Promise<void>((end, fail) => {
      asked.push({
        request,
        stop: options!.signal!,
        answer: (name, grown) => onAnswer({ name }, { machines: 10, share: 0.1, final: false, ...grown }),
        end,
        fail,
      });
    })) as Engine['diagnose'];
  const of = (key: string): Question => ({ key, request: { key } as Question['request'] });
  const question = signal(of('a'));
  const { live, again } = follow(question, () => diagnose);
  const seen: Live[] = [];
  const leave = effect(() => {
    seen.push(live.value);
  });
  return { asked, question, of, live, again, seen, leave };
}

const nameOf = (live: Live) => (live.answer as unknown as { name: string } | null)?.name ?? null;
const wait = (ms: number) => vi.advanceTimersByTimeAsync(ms);

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

test('the first question is asked at once, and the answer grows', async () => {
  const { asked, live } = setUp();
  await wait(0);
  expect(asked.map((a) => a.request)).toEqual([{ key: 'a' }]);
  expect(live.value).toMatchObject({ answer: null, busy: true, stale: false });
  asked[0]!.answer('rough', { machines: 12, share: 0.1 });
  expect(live.value).toMatchObject({ busy: true, stale: false, grown: { machines: 12, final: false } });
  asked[0]!.answer('whole', { machines: 160, share: 1, final: true });
  expect(nameOf(live.value)).toBe('whole');
  expect(live.value.busy).toBe(false);
});

test('nobody looking, nothing asked', async () => {
  const asked: string[] = [];
  const { live } = follow(signal({ key: 'a', request: {} as Question['request'] }), () => {
    asked.push('asked');
    return (() => new Promise<void>(() => {})) as Engine['diagnose'];
  });
  await wait(5000);
  expect(asked).toEqual([]);
  expect(live.peek().busy).toBe(false);
});

test('a change keeps the old answer, marked, until the first new one is there', async () => {
  const { asked, question, of, live } = setUp();
  await wait(0);
  asked[0]!.answer('old', { final: true });
  question.value = of('b');
  expect(nameOf(live.value)).toBe('old');
  expect(live.value).toMatchObject({ stale: true, busy: true });
  await wait(149);
  expect(asked).toHaveLength(1);
  await wait(1);
  expect(asked[1]!.request).toEqual({ key: 'b' });
  expect(nameOf(live.value)).toBe('old');
  asked[1]!.answer('new', { final: false });
  expect(nameOf(live.value)).toBe('new');
  expect(live.value).toMatchObject({ stale: false, busy: true });
});

test('changes in quick succession make one question', async () => {
  const { asked, question, of } = setUp();
  await wait(0);
  for (const key of ['b', 'c', 'd']) {
    question.value = of(key);
    await wait(100);
  }
  await wait(150);
  expect(asked.map((a) => a.request)).toEqual([{ key: 'a' }, { key: 'd' }]);
});

test('a superseded question is stopped, and what it still says is not shown', async () => {
  const { asked, question, of, live } = setUp();
  await wait(0);
  question.value = of('b');
  expect(asked[0]!.stop.aborted).toBe(true);
  asked[0]!.answer('late', { final: true });
  asked[0]!.fail(new DOMException('stopped', 'AbortError'));
  await wait(150);
  expect(nameOf(live.value)).toBe(null);
  expect(live.value.failed).toBe(null);
  asked[1]!.answer('b', { final: true });
  expect(nameOf(live.value)).toBe('b');
});

test('taking a change back before it was answered asks nothing', async () => {
  const { asked, question, of, live } = setUp();
  await wait(0);
  asked[0]!.answer('a', { final: true });
  question.value = of('b');
  await wait(50);
  question.value = of('a');
  expect(live.value).toMatchObject({ stale: false, busy: false });
  await wait(1000);
  expect(asked).toHaveLength(1);
});

test('what the core asks for is a problem, not a failure, and the old answer goes', async () => {
  const { asked, question, of, live } = setUp();
  await wait(0);
  asked[0]!.answer('old', { final: true });
  question.value = of('b');
  await wait(150);
  const problem = { field: 'nameplate, cabinet', given: 'nothing', allowed: '', why: '', text: 'no cabinet' };
  asked[1]!.fail(new ProblemError(problem));
  await wait(0);
  expect(live.value).toMatchObject({ answer: null, busy: false, stale: false, problem, failed: null });
  question.value = of('c');
  await wait(150);
  asked[2]!.answer('c', { final: true });
  expect(live.value).toMatchObject({ problem: null });
});

test('when the engine gives way the answer stays marked as old, and can be asked for again', async () => {
  const { asked, question, of, live, again } = setUp();
  await wait(0);
  asked[0]!.answer('old', { final: true });
  question.value = of('b');
  await wait(150);
  asked[1]!.fail(new Error('out of memory'));
  await wait(0);
  expect(nameOf(live.value)).toBe('old');
  expect(live.value).toMatchObject({ stale: true, busy: false, failed: 'out of memory' });
  again();
  await wait(0);
  asked[2]!.answer('b', { final: true });
  expect(live.value).toMatchObject({ stale: false, failed: null, busy: false });
});

test('a core that broke down is a failure, not something missing in the call', async () => {
  const { asked, live } = setUp();
  await wait(0);
  const why = 'memory access out of bounds';
  asked[0]!.fail(new ProblemError({ field: 'core', given: '', allowed: '', why, text: `core: ${why}` }));
  await wait(0);
  expect(live.value).toMatchObject({ problem: null, failed: `core: ${why}`, busy: false });
});

test('looking away for a moment goes on, for longer stops', async () => {
  const { asked, live, leave } = setUp();
  await wait(0);
  leave();
  await wait(500);
  const back = effect(() => void live.value);
  await wait(2000);
  expect(asked[0]!.stop.aborted).toBe(false);
  expect(asked).toHaveLength(1);
  back();
  await wait(1001);
  expect(asked[0]!.stop.aborted).toBe(true);
  effect(() => void live.value);
  await wait(0);
  expect(asked).toHaveLength(2);
});

test('an answer is never shown as new when it is of another question', async () => {
  const { asked, question, of, seen } = setUp();
  await wait(0);
  asked[0]!.answer('a', { final: true });
  question.value = of('b');
  await wait(150);
  asked[1]!.answer('b', { final: true });
  for (const live of seen) if (live.answer) expect([live.stale, nameOf(live)]).not.toEqual([true, 'b']);
  const order = seen.map((l) => `${nameOf(l) ?? '-'}${l.stale ? ' old' : ''}`);
  expect(order.filter((o, i) => o !== order[i - 1])).toEqual(['-', 'a', 'a old', 'b']);
});
