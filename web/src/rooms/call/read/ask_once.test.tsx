// Many parts ask one question once; what nobody waits for is stopped.
import { render } from 'preact';
import { act } from 'preact/test-utils';
import { beforeEach, expect, test, vi } from 'vitest';
import { app } from '../../../shell/app';
import { useOnce } from './ask_once';

const asks: { name: string; answer: (a: object) => void; signal: AbortSignal }[] = [];
let root: HTMLElement;
beforeEach(() => {
  asks.length = 0;
  root = document.createElement('div');
  app.engine = {
    ask: vi.fn(
      (name: string, _: object, { signal }: { signal: AbortSignal }) =>
        new Promise((answer, refuse) => {
          signal.addEventListener('abort', () => refuse(signal.reason as Error));
          asks.push({ name, answer, signal });
        }),
    ),
  } as never;
});

function Part({ of }: { of: object | null }) {
  const { answer } = useOnce<{ n: number }>('expect', of);
  return <p>{answer ? answer.n : '-'}</p>;
}
const settle = () => act(() => new Promise<void>((r) => setTimeout(r, 5)));
const show = (...of: (object | null)[]) =>
  act(() =>
    render(
      of.map((o, i) => <Part key={i} of={o} />),
      root,
    ),
  );

test('two parts, one question, one answer for both', async () => {
  await show({ a: 1 }, { a: 1 });
  await settle();
  expect(asks.length).toBe(1);
  asks[0]!.answer({ n: 7 });
  await settle();
  expect(root.textContent).toBe('77');
});

test('a superseded question is stopped once the last part has left it, and can be asked again', async () => {
  await show({ b: 1 }, { b: 1 });
  await settle();
  await show({ b: 2 }, { b: 1 });
  await settle();
  expect(asks[0]!.signal.aborted).toBe(false);
  await show({ b: 2 }, { b: 2 });
  await settle();
  expect(asks[0]!.signal.aborted).toBe(true);
  expect(asks.length).toBe(2);
  await show({ b: 1 }, { b: 2 });
  await settle();
  expect(asks.length).toBe(3);
  asks[2]!.answer({ n: 1 });
  asks[1]!.answer({ n: 2 });
  await settle();
  expect(root.textContent).toBe('12');
});
