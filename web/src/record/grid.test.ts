import { expect, it } from 'vitest';
import { evened } from './grid';

it('raises columns to their floors and keeps the sum', () => {
  expect(evened([100, 100, 100], [40, 130, 60])).toEqual([82, 130, 88]);
  expect(evened([100, 100], [50, 50])).toEqual([100, 100]);
  expect(evened([100, 100], [120, 120])).toEqual([100, 100]); // nothing to give
  expect(evened([50, 150], [100, 130])).toEqual([70, 130]); // as far as it goes
  expect(evened([], [])).toEqual([]);
});
