import { expect, test } from 'vitest';
import { press, split, spokenWith, unfinished, withoutUnit } from './keypad_text';

const typed = (...keys: string[]) => keys.reduce(press, '');

test('digits, point and sign', () => {
  expect(typed('4', '1', '.', '5')).toBe('41.5');
  expect(typed('.', '5')).toBe('0.5');
  expect(typed('4', '.', '1', '.')).toBe('4.1');
  expect(typed('3', '-')).toBe('-3');
  expect(typed('-', '3', '-')).toBe('3');
});

test('fractions stand behind the whole number, one at a time', () => {
  expect(typed('3', '1/4')).toBe('3 1/4');
  expect(typed('3', '1/4', '1/2')).toBe('3 1/2');
  expect(typed('3/4')).toBe('3/4');
  expect(typed('-', '3', '1/4', '-')).toBe('3 1/4');
});

test('taking back: a unit at once, a fraction at once, then digit by digit', () => {
  expect(press('3 1/4 oz', 'back')).toBe('3 1/4');
  expect(press('3 1/4', 'back')).toBe('3');
  expect(press('41.5', 'back')).toBe('41.');
  expect(press('', 'back')).toBe('');
});

test('what was typed or spoken keeps its unit', () => {
  expect(split('-3in')).toEqual({ figure: '-3', unit: 'in' });
  expect(split('3 1/4 oz')).toEqual({ figure: '3 1/4', unit: 'oz' });
  expect(spokenWith('-3in', 'psig')).toBe('-3in');
  expect(spokenWith('41.5', 'psig')).toBe('41.5 psig');
  expect(press('-3 inHg', '5')).toBe('-35 inHg');
  expect(withoutUnit('-3 inHg')).toBe('-3');
  expect(spokenWith('forty one point five', 'psig')).toBe('forty one point five');
});

test('open line', () => {
  expect(typed('4', 'OL')).toBe('OL');
  expect(typed('OL', '4')).toBe('4');
  expect(spokenWith('OL', 'ohm')).toBe('OL');
  expect(withoutUnit('OL')).toBe('OL');
});

test('unfinished is no mistake', () => {
  for (const text of ['', '-', '.', ' - ']) expect(unfinished(text)).toBe(true);
  for (const text of ['0', 'OL', '3in']) expect(unfinished(text)).toBe(false);
});
