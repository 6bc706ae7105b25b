import { expect, test } from 'vitest';
import { lineOf, numberOf, traceOf } from './trace';

const reading = (value: string, minute: number) => ({
  id: `${minute}`,
  kind: 'reading',
  at: `2026-06-01T08:${String(minute).padStart(2, '0')}:00Z`,
  value,
});

test('numbers as they are written', () => {
  expect(['41.5', '3 1/4', '-3', '−2', '1/2', '0,5', '-1 1/2', '.5'].map(numberOf)).toEqual([
    41.5, 3.25, -3, -2, 0.5, 0.5, -1.5, 0.5,
  ]);
  expect(['', 'OL', 'forty', '1/', '-'].map(numberOf)).toEqual([null, null, null, null, null]);
});

test('a trace of one unit, written in several ways', () => {
  const trace = traceOf([reading('20 °F', 1), reading('22F', 3), reading('OL', 4)])!;
  expect(trace.points.map((p) => p.value)).toEqual([20, 22]);
  expect(trace.points[1]!.at - trace.points[0]!.at).toBe(120);
});

test('none of two units, none of one point', () => {
  expect(traceOf([reading('20 F', 1), reading('2 C', 3)])).toBeNull();
  expect(traceOf([reading('20 F', 1)])).toBeNull();
});

test('the line rises with the value and runs with time', () => {
  expect(lineOf(traceOf([reading('1 A', 0), reading('3 A', 1), reading('2 A', 4)])!, 80, 20)).toBe(
    '0.0,20.0 20.0,0.0 80.0,10.0',
  );
  expect(lineOf(traceOf([reading('1 A', 1), reading('1 A', 1)])!, 80, 20)).toBe('0.0,10.0 80.0,10.0');
});
