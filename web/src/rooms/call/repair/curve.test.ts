// A curve as columns for the plot.
import { expect, test } from 'vitest';
import type { Curve } from './answer_types';
import { bandsOf, columnsOf } from './curve';

const line = (kind: string, ...points: [number, number][]) => ({ key: kind, label: kind, kind, points });
const curve = (...lines: Curve['lines']): Curve => ({
  key: 'c',
  label: 'c',
  x: { label: 't', unit: 'min' },
  y: { label: 'p', unit: 'psig' },
  lines,
});

test('lines with different times share one axis, with gaps where they say nothing', () => {
  const made = columnsOf(
    curve(line('measured', [5, 50], [0, 40]), line('predicted', [0, 41], [2.5, 45], [5, 49])),
  );
  expect(made.x).toEqual([0, 2.5, 5]);
  expect(made.lines).toEqual([
    [40, null, 50],
    [41, 45, 49],
  ]);
  expect(columnsOf(curve())).toEqual({ x: [], lines: [] });
});

test('a band lies between a low and its high', () => {
  expect(bandsOf(curve(line('measured'), line('low'), line('predicted'), line('high')))).toEqual([[3, 1]]);
  expect(bandsOf(curve(line('low')))).toEqual([]);
});
