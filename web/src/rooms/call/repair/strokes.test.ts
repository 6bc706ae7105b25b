// A signature's path: what the core allows in it, and the last stroke taken back.
import { expect, test } from 'vitest';
import { begun, drawn, padHeight, padWidth, shortened } from './strokes';

test('strokes are whole numbers within the pad', () => {
  let path = begun('', 10.4, 20.6);
  path = drawn(path, 30, 40.2);
  path = drawn(path, 30.4, 40); // no farther than a hair
  path = drawn(path, -5, 9999);
  expect(path).toBe(`M10 21 L10 21 L30 40 L0 ${padHeight}`);
  expect(drawn(path, 9999, 9999)).toMatch(new RegExp(`L${padWidth} ${padHeight}$`));
  expect(path).toMatch(/^[ML0-9 ]*$/);
});

test('the last stroke is taken back', () => {
  const one = drawn(begun('', 1, 1), 9, 9);
  const two = drawn(begun(one, 50, 50), 70, 70);
  expect(shortened(two)).toBe(one);
  expect(shortened(one)).toBe('');
  expect(shortened('')).toBe('');
});
