// A finger drags, two stretch, the wheel stretches, a tap marks.
import { beforeEach, expect, test } from 'vitest';
import { gestures } from './gestures';
import type { View } from './window';

let place: HTMLElement;
let view: View;
let marks: number[];
beforeEach(() => {
  place = document.createElement('div');
  place.setPointerCapture = () => {};
  view = { from: 0, to: 1000 };
  marks = [];
  gestures(place, {
    view: () => view,
    timeAt: (x) => view.from + ((view.to - view.from) * x) / 100, // 100 px wide
    show: (to) => (view = to),
    mark: (t) => marks.push(t),
    whole: () => view.to - view.from >= 1000,
  });
});
const point = (type: string, pointerId: number, clientX: number) =>
  place.dispatchEvent(
    Object.assign(new Event(type), { pointerId, clientX, pointerType: 'touch', button: 0 }),
  );

test('what is under the finger stays under it', () => {
  view = { from: 100, to: 200 };
  point('pointerdown', 1, 50);
  point('pointermove', 1, 30);
  point('pointerup', 1, 30);
  expect(view).toEqual({ from: 120, to: 220 });
  expect(marks).toEqual([]);
});

test('two fingers apart come nearer, around where they are', () => {
  point('pointerdown', 1, 40);
  point('pointerdown', 2, 60);
  point('pointermove', 2, 80);
  expect(view.to - view.from).toBeCloseTo(500);
  expect(view.from + 0.4 * 500).toBeCloseTo(400); // under the finger that stood still
  point('pointerup', 2, 80);
  point('pointerup', 1, 40);
  expect(marks).toEqual([]);
});

test('a tap marks its moment', () => {
  point('pointerdown', 1, 25);
  point('pointermove', 1, 27);
  point('pointerup', 1, 27);
  expect(marks).toEqual([270]);
  expect(view).toEqual({ from: 0, to: 1000 });
});

test('the wheel stretches, and leaves the page its own when all is in view', () => {
  const roll = (deltaY: number) => {
    const event = Object.assign(new Event('wheel', { cancelable: true }), { deltaY, clientX: 50 });
    place.dispatchEvent(event);
    return event.defaultPrevented;
  };
  expect(roll(1)).toBe(false);
  expect(roll(-1)).toBe(true);
  expect(view.to - view.from).toBeLessThan(1000);
  expect(view.from + view.to).toBeCloseTo(1000);
  expect(roll(1)).toBe(true);
});
