import { afterEach, expect, test } from 'vitest';
import { prefs } from '../shell/prefs';
import { bytesText } from './words';

afterEach(() => void (prefs.language.value = 'en'));
test('an amount of storage as the language writes it', () => {
  expect([0, 1, 12_000, 1_250_000, 10.7e9].map(bytesText)).toEqual([
    '0 kB',
    '1 kB',
    '12 kB',
    '1.3 MB',
    '10.7 GB',
  ]);
  prefs.language.value = 'fr';
  expect(bytesText(1_250_000)).toMatch(/^1,3\sMo$/);
});
