import { afterEach, expect, test } from 'vitest';
import { prefs } from '../../shell/prefs';
import { asWritten, fileOf, moved, stepOf, traceWord } from './typed';

test('readings a trace knows, and those it doesn’t', () => {
  expect(traceWord('compressor_current')).toBe('current');
  expect(traceWord('suction_line_temp')).toBe('suction_line_temp');
  expect(traceWord('winding_resistance')).toBeNull();
});

test('a typed series as a file that the core reads', () => {
  const at = new Date(2026, 2, 4, 6).getTime() / 1000; // by this machine's zone
  const { text, layout } = fileOf(
    {
      points: [
        { at, value: 1.5 },
        { at: at + 30.25, value: -2 },
      ],
      unit: 'A',
    },
    'current',
  );
  expect(text).toBe('2026-03-04T06:00:00.000,1.5\n2026-03-04T06:00:30.250,-2\n');
  expect(layout.columns[1]).toMatchObject({ what: 'current', unit: 'A' });
});

test('steps of the keys by unit', () => {
  expect(['°F', 'F', 'psig', 'V', '°C', 'bar(g)', 'A'].map(stepOf)).toEqual([1, 1, 1, 1, 0.5, 0.1, 0.1]);
  expect(moved(0.2, 0.1)).toBe('0.3');
  expect(moved(1, -1)).toBe('0');
});

afterEach(() => void (prefs.language.value = 'en'));
test('an entry’s number as the language writes it, to the digit', () => {
  expect(['6.90 °C', '78 F', '-2 C'].map(asWritten)).toEqual(['6.90\u00a0°C', '78\u00a0°F', '-2\u00a0°C']);
  prefs.language.value = 'fr';
  expect(['6.90 °C', '-3 inHg', 'OL', '3 1/4 oz'].map(asWritten)).toEqual([
    '6,90\u00a0°C',
    '-3\u00a0inHg',
    'OL',
    '3 1/4 oz',
  ]);
});
