import { expect, it } from 'vitest';
import { broken } from './lines';

const lines = (text: string, width: number) => broken(text, width, (words) => words.length);

it('breaks at blanks and after hyphens between letters, never at fixed blanks', () => {
  expect(lines('one two three', 7)).toEqual(['one two', 'three']);
  expect(lines('at 24.6\u00a0°C now', 9)).toEqual(['at', '24.6\u00a0°C', 'now']);
  expect(lines('well-known place', 6)).toEqual(['well-', 'known', 'place']);
  expect(lines('it was 13.0 °C', 9)).toEqual(['it was', '13.0\u00a0°C']);
  expect(lines('54\u2007\u2008', 9)).toEqual(['54\u2007\u2008']); // room for decimals below each other
  expect(lines('from -47.9 on', 6)).toEqual(['from', '-47.9', 'on']);
});
it('keeps line ends and cuts what is too long for a line', () => {
  expect(lines('a\n\nb', 5)).toEqual(['a', '', 'b']);
  expect(lines('abcdefgh ij', 3)).toEqual(['abc', 'def', 'gh', 'ij']);
  expect(lines('e\u0301e\u0301e\u0301', 4)).toEqual(['e\u0301e\u0301', 'e\u0301']);
  expect(lines('abc', 0)).toEqual(['a', 'b', 'c']);
  expect(lines('', 5)).toEqual(['']);
});
it('loses no letter', () => {
  const text = 'Cut-away view: R-600a -- x–y 10–20, semi-hermetic\u2010type "so-called" a- -b';
  for (const width of [1, 2, 3, 5, 8, 13, 99])
    expect(lines(text, width).join('').replaceAll(' ', '')).toBe(text.replaceAll(' ', ''));
});
