import { expect, test } from 'vitest';
import { markTexts, momentText, sinceStart } from './clock_marks';

const noon = Date.UTC(2026, 2, 4, 12) / 1000;

test('time since the start goes on past a day', () => {
  expect(sinceStart(7, 1)).toBe('0:00:07');
  expect(sinceStart(26 * 3600 + 300, 600)).toBe('26:05\u00a0h');
});

test('the day stands below its first mark', () => {
  const at = [0, 6, 12, 18].map((h) => noon + h * 3600);
  expect(markTexts(at, 21600, true, 'en')).toEqual(['12:00\nMar 4', '18:00', '00:00\nMar 5', '06:00']);
  expect(markTexts([noon, noon + 86400], 86400, true, 'en')).toEqual(['Mar 4', 'Mar 5']);
  expect(markTexts([noon, noon + 15], 15, true, 'en')[1]).toBe('12:00:15');
  expect(markTexts([0, 3600], 3600, false, 'en')).toEqual(['0:00\u00a0h', '1:00\u00a0h']);
});

test('a moment by the logger’s clock, whatever the phone’s zone', () => {
  expect(momentText(61, noon, 'en')).toContain('12:01:01');
  expect(momentText(61, null, 'en')).toBe('0:01:01');
});
