import { expect, test } from 'vitest';
import {
  chipOf,
  isTemperature,
  isVolume,
  spoken,
  split,
  turned,
  unfinished,
  unitsFor,
  usualUnit,
  withUnit,
} from './units';

test.each([
  ['22', '22', ''],
  ['22F', '22', 'F'],
  ['-3in', '-3', 'in'],
  ['− 3 °C', '− 3', '°C'],
  ['41,5 psig', '41,5', 'psig'],
  ['3 1/4 oz', '3 1/4', 'oz'],
  ['3-1/4oz', '3-1/4', 'oz'],
  ['1/2 lb', '1/2', 'lb'],
  ['.031 in', '.031', 'in'],
  ['5 inHg vac', '5', 'inHg vac'],
  ['22.', '22.', ''],
  ['warm', 'warm', ''],
  ['', '', ''],
])('"%s" is the figure "%s" and the unit "%s"', (text, figure, unit) => {
  expect(split(text)).toEqual({ figure, unit });
});

test('a chip replaces the unit and leaves the figure', () => {
  expect(withUnit('22', 'psig')).toBe('22 psig');
  expect(withUnit('22 °F', 'psig')).toBe('22 psig');
  expect(withUnit('3 1/4oz', 'g')).toBe('3 1/4 g');
  expect(withUnit('', 'g')).toBe('');
});

test('a typed unit is kept as typed, a missing one is given', () => {
  expect(spoken('22', '°F')).toBe('22 °F');
  expect(spoken(' 22 C ', '°F')).toBe('22 C');
  expect(spoken('5 stones', 'oz')).toBe('5 stones');
  expect(spoken('  ', '°F')).toBeNull();
  expect(spoken('minus three inches', 'psig')).toBe('minus three inches');
  expect(withUnit('minus three inches', 'psig')).toBe('minus three inches');
});

test('a typed unit lights the chip it means, and no other', () => {
  const chips = unitsFor('saturation', 'us');
  expect(chipOf('F', chips)).toBe('°F');
  expect(chipOf('in.Hg vac', chips)).toBe('inHg vac');
  expect(chipOf('microns', chips)).toBe('micron');
  expect(chipOf('barg', chips)).toBe('bar(g)');
  expect(chipOf('bar', chips)).toBeNull();
  expect(chipOf('', chips)).toBeNull();
});

test('the system in use comes first and each unit stands once', () => {
  expect(unitsFor('temperature', 'metric')).toEqual(['°C', '°F']);
  expect(unitsFor('share', 'us')).toEqual(['%']);
  expect(usualUnit('saturation', 'us')).toBe('°F');
});

test('the sign turns and turns back', () => {
  expect(turned('22 °F')).toBe('-22 °F');
  expect(turned('-22 °F')).toBe('22 °F');
  expect(turned('− 4')).toBe('4');
  expect(turned('')).toBe('-');
});

test('a lone sign or point is only a beginning', () => {
  expect(['', '-', '-.', ' + '].map(unfinished)).toEqual([true, true, true, true]);
  expect(unfinished('-3')).toBe(false);
});

test('the unit says which of two amounts is meant', () => {
  expect(['m3', 'ft³', 'L', 'litres', 'cuft'].map(isVolume)).toEqual([true, true, true, true, true]);
  expect(['m2', 'ft2', 'sqft', ''].map(isVolume)).toEqual([false, false, false, false]);
  expect(['°F', 'degC', 'K'].map(isTemperature)).toEqual([true, true, true]);
  expect(['micron', 'mbar', 'kPa'].map(isTemperature)).toEqual([false, false, false]);
});
