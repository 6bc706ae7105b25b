import { expect, test } from 'vitest';
import { cellText } from './card';

const quantity = (text: string, unit: string) => ({ si: 1, value: 1, unit, text });

test('a column says its unit once, a row in another unit says its own', () => {
  expect(cellText(quantity('43.2 psig', 'psig'), 'psig')).toBe('43.2');
  expect(cellText(quantity('-0.5 inHg', 'inHg'), 'psig')).toBe('-0.5 inHg');
  expect(cellText(null, 'psig')).toBe('–');
});
