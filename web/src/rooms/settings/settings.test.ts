import { expect, test } from 'vitest';
import { references } from './references';
import { siteOf } from './site';

test('a length is an altitude, a pressure a barometer', () => {
  expect(siteOf('5000 ft')).toEqual({ altitude: '5000 ft' });
  expect(siteOf("5000'")).toEqual({ altitude: "5000'" });
  expect(siteOf('1500 m')).toEqual({ altitude: '1500 m' });
  expect(siteOf('24.9 inHg')).toEqual({ barometer: '24.9 inHg' });
  expect(siteOf('843 hPa')).toEqual({ barometer: '843 hPa' });
  expect(siteOf(null)).toEqual({});
});

test('a work stands once, however many of its tables were used', () => {
  const all = references([
    [
      { key: 'ashrae2021, Chapter 29, Table 1', citation: 'B (2021), Handbook, Chapter 29, Table 1' },
      { key: 'a1999', citation: 'A (1999)' },
    ],
    [{ key: 'ashrae2021', citation: 'B (2021), Handbook' }],
  ]);
  expect(all).toEqual([
    { key: 'a1999', citation: 'A (1999)' },
    { key: 'ashrae2021', citation: 'B (2021), Handbook' },
  ]);
});
