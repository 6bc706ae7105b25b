import { expect, test } from 'vitest';
import { firstAt, laneOf, stretched, valueAt, windowOf, within } from './window';

const wave = laneOf(
  Array.from({ length: 10_000 }, (_, i) => [i * 10, Math.sin(i / 50), Math.sin(i / 50) + 0.1]),
);

test('a stretch never holds more than asked for, and keeps its peaks', () => {
  const spiked = laneOf(Array.from({ length: 10_000 }, (_, i) => [i * 10, 1, i === 7777 ? 99 : 1]));
  const [xs, ys] = windowOf(spiked, 0, 100_000, 300);
  expect(xs.length).toBeLessThanOrEqual(2 * 301);
  expect(Math.max(...(ys as number[]))).toBe(99);
  expect(xs).toEqual([...xs].sort((a, b) => a - b));
});

test('close up every sample stands, and one beyond either edge', () => {
  const [xs, ys] = windowOf(wave, 1000, 2000, 800);
  expect(xs[0]).toBe(990);
  expect(xs.at(-1)).toBe(2000);
  expect(ys).toContain(Math.sin(2));
});

test('what was not logged is not drawn', () => {
  const lane = laneOf([
    [0, 1, 1],
    [10, 1, 1],
    [20, 1, 1],
    [4000, 2, 2],
    [4010, 2, 2],
  ]);
  expect(windowOf(lane, 0, 5000, 100)[1]).toEqual([1, 1, 1, null, 2, 2]);
  expect(windowOf(lane, 0, 5000, 1)[1]).toEqual([1, null, 2]);
  expect(valueAt(lane, 2000)).toBeNull();
  expect(valueAt(lane, 3995)).toBe(2);
});

test('nothing at all is drawn as nothing', () => {
  expect(windowOf(laneOf([]), 0, 10, 10)).toEqual([[], []]);
  expect(valueAt(laneOf([]), 1)).toBeNull();
});

test('indices by time', () => {
  expect([firstAt(wave.at, -1), firstAt(wave.at, 15), firstAt(wave.at, 1e9)]).toEqual([0, 2, 10_000]);
});

test('a view stays within what was logged', () => {
  expect(within({ from: -50, to: 50 }, 1000, 10)).toEqual({ from: 0, to: 100 });
  expect(within({ from: 950, to: 1050 }, 1000, 10)).toEqual({ from: 900, to: 1000 });
  expect(within({ from: 500, to: 501 }, 1000, 10)).toEqual({ from: 495.5, to: 505.5 });
  expect(within({ from: -9e9, to: 9e9 }, 1000, 10)).toEqual({ from: 0, to: 1000 });
  expect(stretched({ from: 0, to: 100 }, 25, 0.5)).toEqual({ from: 12.5, to: 62.5 });
});
