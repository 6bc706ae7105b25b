import { expect, test } from 'vitest';
import type { TraceLayout, TraceQuestion } from '../../engine/use_cases';
import { answered, complete, standingAnswer, withColumn, type ColumnChoice } from './layout';

const choices: ColumnChoice[] = [
  { value: 'time', label: 'time', units: [] },
  { value: 'power', label: 'power', units: ['W', 'kW'] },
  { value: 'box_temp', label: 'box air', units: ['°C', '°F'] },
  { value: 'suction_line_temp', label: 'suction line', units: ['°C', '°F'] },
  { value: 'comment', label: 'remark', units: [] },
];
const layout: TraceLayout = {
  separator: 'semicolon',
  decimal: 'comma',
  time: { form: 'day_first' },
  columns: [
    { what: 'power', unit: 'W' },
    { what: 'time', unit: '' },
    { what: 'box_temp', unit: '°F' },
  ],
};

test('another kind of column keeps a unit that is right, else takes its own', () => {
  const moved = withColumn(layout, choices, { column: 2, what: 'suction_line_temp' });
  expect(moved.columns[2]).toEqual({ what: 'suction_line_temp', unit: '°F' });
  expect(withColumn(layout, choices, { column: 2, what: 'power' }).columns[2]!.unit).toBe('W');
  expect(withColumn(layout, choices, { column: 2, what: 'comment' }).columns[2]!.unit).toBe('');
  expect(layout.columns[2]!.what).toBe('box_temp');
});

test('a unit that is in no list of ours but stood there is kept', () => {
  const odd = { ...layout, columns: [{ what: 'power' as const, unit: 'VA' }] };
  expect(withColumn(odd, choices, { column: 0 }).columns[0]!.unit).toBe('VA');
  expect(withColumn(odd, choices, { column: 0, unit: 'kW' }).columns[0]!.unit).toBe('kW');
});

const question = (key: string, column: number | null, ...options: string[]): TraceQuestion => ({
  ...{ key, column, text: '', sensor: null },
  options: options.map((value) => ({ value, label: value })),
});

test('answers change what was asked about, and nothing else', () => {
  const month = question('day_or_month', 1, 'day_first', 'month_first');
  expect(standingAnswer(layout, month)).toBe('day_first');
  const after = answered(layout, choices, month, 'month_first');
  expect(after.time.form).toBe('month_first');
  expect(standingAnswer(after, month)).toBe('month_first');
  const where = question('which_temperature', 2, 'box_temp', 'suction_line_temp');
  expect(answered(layout, choices, where, 'suction_line_temp').columns[2]).toEqual({
    what: 'suction_line_temp',
    unit: '°F',
  });
  const unit = question('which_unit', 0, 'W', 'kW');
  expect(answered(layout, choices, unit, 'kW').columns[0]).toEqual({ what: 'power', unit: 'kW' });
  const elapsed = question('elapsed_unit', 1, 's', 'min');
  expect(answered(layout, choices, elapsed, 'min').time.seconds_per_unit).toBe(60);
  expect(standingAnswer(layout, elapsed)).toBe('s');
});

test('a sensor among names is changed by its name', () => {
  const long: TraceLayout = { ...layout, sensors: [{ name: 'K1', what: 'box_temp', unit: '°C' }] };
  const asked = { ...question('which_unit', 2, '°C', '°F'), sensor: 'K1' };
  expect(answered(long, choices, asked, '°F').sensors![0]!.unit).toBe('°F');
  expect(answered(long, choices, asked, '°F').columns).toEqual(long.columns);
});

test('whole with a time and something measured', () => {
  expect(complete(layout, choices)).toBe(true);
  expect(complete({ ...layout, columns: layout.columns.slice(1, 2) }, choices)).toBe(false);
  expect(complete({ ...layout, columns: [layout.columns[0]!] }, choices)).toBe(false);
});
