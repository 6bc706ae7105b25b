// Grouping, ordering, rounding and the scale of the small pictures.
import { beforeAll, expect, test } from 'vitest';
import { prefs } from '../../../shell/prefs';
import { loadWords } from '../../../words/words';
import { grouped, isClose, settled, shareText, type Cause } from './group';
import { rangeOf } from './range';
import { scaleOf } from './scale';
import { pull, pullText, tellsText } from './weigh';

const cause = (name: string, probability: number, error = 0): Cause => ({
  cause: name,
  label: name,
  probability,
  error,
  probability_text: '',
  in_words: '',
  severity: null,
  severity_2: null,
  severity_text: '',
});

beforeAll(async () => {
  prefs.language.value = 'en';
  await loadWords('en');
});

test('the first stands alone, those from 2 % on beneath it, the rest together', () => {
  const g = grouped([
    cause('a', 0.9),
    cause('b', 0.05),
    cause('c', 0.02),
    cause('d', 0.019),
    cause('e', 0.011),
  ]);
  expect(g.lead?.cause).toBe('a');
  expect(g.others.map((c) => c.cause)).toEqual(['b', 'c']);
  expect(g.rest.map((c) => c.cause)).toEqual(['d', 'e']);
  expect(g.restShare).toBeCloseTo(0.03);
  expect(g.restText).toBe('3 %');
});

test('the first stands alone even when it is unlikely, and nobody is counted twice', () => {
  const many = Array.from({ length: 40 }, (_, i) => cause(`c${i}`, 1 / 40));
  const g = grouped(many);
  expect(g.lead?.cause).toBe('c0');
  expect(1 + g.others.length + g.rest.length).toBe(40);
  expect(g.restShare + g.others.length / 40 + 1 / 40).toBeCloseTo(1);
  expect(grouped([])).toMatchObject({ lead: null, others: [], rest: [], restText: '<1 %' });
});

test.each([
  [0, 0, '<1 %'],
  [0.004, 0, '<1 %'],
  [0.5, 0, '50 %'],
  [0.996, 0, '>99 %'],
  [1, 0, '>99 %'],
  [0.474, 0.004, '47 %'],
  [0.474, 0.015, '48 %'],
  [0.474, 0.04, '45 %'],
  [0.03, 0.04, '<5 %'],
  [0.97, 0.04, '>95 %'],
  [0.3, 0.5, '40 %'],
])('a share of %d with an error of %d reads %s', (share, error, text) => {
  expect(shareText(share, error)).toBe(text);
});

test('while the answer grows the order holds within its errors, and gives way beyond them', () => {
  const close = [cause('b', 0.5, 0.1), cause('a', 0.45, 0.1), cause('c', 0.05, 0.01)];
  expect(settled(['a', 'b', 'c'], close, false).map((c) => c.cause)).toEqual(['a', 'b', 'c']);
  expect(settled(['a', 'b', 'c'], close, true).map((c) => c.cause)).toEqual(['b', 'a', 'c']);
  expect(settled([], close, false).map((c) => c.cause)).toEqual(['b', 'a', 'c']);
  const far = [cause('c', 0.8, 0.05), cause('a', 0.15, 0.05), cause('b', 0.05, 0.02)];
  expect(settled(['a', 'b', 'c'], far, false)[0]!.cause).toBe('c');
});

test('a newcomer rises to where its probability puts it', () => {
  const now = [cause('a', 0.6, 0.01), cause('n', 0.3, 0.01), cause('b', 0.1, 0.01)];
  expect(settled(['a', 'b'], now, false).map((c) => c.cause)).toEqual(['a', 'n', 'b']);
});

test('ordering again what was ordered changes nothing', () => {
  const now = [cause('b', 0.5, 0.1), cause('a', 0.45, 0.1), cause('c', 0.05, 0.01)];
  const once = settled(['c', 'a', 'b'], now, false);
  const names = once.map((c) => c.cause);
  expect(settled(names, now, false).map((c) => c.cause)).toEqual(names);
});

test('one bit is a doubling of the odds, in words and number', () => {
  expect(pull(Math.LN2)).toMatchObject({ way: 'for', strength: 'clear' });
  expect(pull(Math.LN2).bits).toBeCloseTo(1);
  expect(pull(-3.2 * Math.LN2)).toMatchObject({ way: 'against', strength: 'strong' });
  expect(pullText(pull(4.14399))).toBe('strongly for it, 6.0 bits');
  expect(pullText(pull(-0.3 * Math.LN2))).toBe('slightly against it, 0.3 bits');
  expect(pullText(pull(0.03))).toBe('speaks neither way');
  expect(pullText(pull(400))).toBe('strongly for it, over 20 bits');
});

test('what a reading would tell', () => {
  expect(tellsText(0.32)).toBe('tells something, 0.3 bits');
  expect(tellsText(0.078)).toBe('tells little, 0.08 bits');
  expect(tellsText(0.001)).toBe('tells little, under 0.01 bits');
  expect(tellsText(0.9)).toBe('tells much, 0.9 bits');
});

test('the scale holds all ranges and the value, with room at both ends', () => {
  const scale = scaleOf([{ low: 10, high: 20 }], [40]);
  expect([scale.low, scale.high]).toEqual([10, 40]);
  expect(scale.at(10)).toBeGreaterThan(0);
  expect(scale.at(40)).toBeLessThan(100);
  expect(scale.at(25)).toBeCloseTo(50);
  expect(scaleOf([{ low: 3, high: 3 }]).at(3)).toBe(50);
  expect(scaleOf([{ low: NaN, high: 5 }], [1]).at(5)).toBeLessThan(100);
});

test('a range is taken in SI, where a gauge that changes its unit on the way stays straight', () => {
  const q = (si: number | null) => ({ si, value: null, unit: '', text: '' });
  expect(rangeOf({ low: q(80_000), mid: q(100_000), high: q(150_000) })).toEqual({
    low: 80_000,
    mid: 100_000,
    high: 150_000,
  });
});

test('two causes are close when even, or within what another drawing would move them', () => {
  expect(isClose(cause('a', 0.5), cause('b', 0.45))).toBe(true);
  expect(isClose(cause('a', 0.6), cause('b', 0.3))).toBe(false);
  expect(isClose(cause('a', 0.6, 0.15), cause('b', 0.3, 0.15))).toBe(true);
});
