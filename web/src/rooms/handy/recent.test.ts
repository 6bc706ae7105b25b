import { expect, test } from 'vitest';
import { isComposition, remembered, search } from './recent';

const list = [
  { designation: 'R22', name: 'chlorodifluoromethane' },
  { designation: 'R290', name: 'propane' },
  { designation: 'R1290', name: 'not a real one' },
  { designation: 'R404A', name: 'R125/R143a/R134a (44/52/4)' },
];
const found = (text: string) => search(list, text).map((r) => r.designation);

test('the newest stands first and once', () => {
  expect(remembered(['R22', 'R290'], 'R290')).toEqual(['R290', 'R22']);
  expect(remembered('abcdefgh'.split(''), 'i')).toHaveLength(8);
});

test('a designation is found with or without its R, a name by any part', () => {
  expect(found('290')).toEqual(['R290', 'R1290']);
  expect(found('r-404 a')).toEqual(['R404A']);
  expect(found('prop')).toEqual(['R290']);
  expect(found('143a')).toEqual(['R404A']);
  expect(found('')).toHaveLength(4);
  expect(found('zzz')).toEqual([]);
});

test('a composition of one’s own is told from a search', () => {
  expect(isComposition('R32/R125 50/50')).toBe(true);
  expect(isComposition('R32/R125/R134a 23/25/52')).toBe(true);
  expect(isComposition('R32/R125')).toBe(false);
  expect(isComposition('R290')).toBe(false);
});
