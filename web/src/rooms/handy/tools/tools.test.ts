import { expect, test } from 'vitest';
import { cellText } from './card';
import { counterpart } from './convert';
import { lastPart, partsOf } from './targets';

const quantity = (text: string, unit: string) => ({ si: 1, value: 1, unit, text });

test('a column says its unit once, a row in another unit says its own', () => {
  expect(cellText(quantity('43.2 psig', 'psig'), 'psig')).toBe('43.2');
  expect(cellText(quantity('-0.5 inHg', 'inHg'), 'psig')).toBe('-0.5 inHg');
  expect(cellText(null, 'psig')).toBe('–');
});

test('a problem of a call’s entry is one of the field it ends with', () => {
  expect(lastPart('entry 2 (site), ambient')).toBe('ambient');
  expect(lastPart('ambient')).toBe('ambient');
});

test('the big conversion is the other system’s, or whatever isn’t what was typed', () => {
  const same = [quantity('22 °F', '°F'), quantity('-5.6 °C', '°C'), quantity('267.6 K', 'K')];
  expect(counterpart(same, '°F', '°C')?.text).toBe('-5.6 °C');
  expect(counterpart(same, '°C', '°F')?.text).toBe('22 °F');
  expect(counterpart(same, '°F', 'furlong')?.text).toBe('-5.6 °C');
  expect(counterpart([quantity('5 %', '%')], '%', '%')).toBeUndefined();
});

test('suction and head stand first whatever the order of the answer', () => {
  const unseen = (name: string, text: string) => ({
    quantity: name,
    label: name,
    sound: null,
    interval: {
      low: quantity('', ''),
      mid: quantity(text, ''),
      high: quantity('', ''),
      text: `around ${text}`,
    },
  });
  const { figures, ranges, rest } = partsOf({
    ambient: quantity('90 °F', '°F'),
    box: quantity('40 °F', '°F'),
    readings: [],
    quantities: [
      unseen('discharge_pressure', '210 psig'),
      unseen('superheat', '7 °F'),
      unseen('suction_pressure', '43 psig'),
    ],
  });
  expect(figures.map((f) => f.text)).toEqual(['43 psig', '210 psig']);
  expect(ranges).toBe('around 43 psig · around 210 psig');
  expect(rest.map((f) => f.label)).toEqual(['superheat']);
});
