// The room's sheet is loaded late and stays: a rule of it that names no room would from then on reach every other.
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';

test('every rule keeps to this room', () => {
  const sheet = readFileSync(`${import.meta.dirname}/trace.css`, 'utf8').replace(/\/\*[^]*?\*\//g, '');
  const selectors = [...sheet.matchAll(/([^{};]+)\{/g)]
    .flatMap((m) => m[1]!.split(','))
    .map((s) => s.trim())
    .filter((s) => !s.startsWith('@'));
  expect(selectors.length).toBeGreaterThan(50);
  expect(selectors.filter((s) => !s.startsWith('.trace-room'))).toEqual([]);
});
