// What the picture draws: every step at its minute, from what was believed at the door; marks that fit.
import { expect, test } from 'vitest';
import { matching } from './decide';
import { minuteStep, pointsOf } from './timeline';

test('a way begins at the door and goes through each step', () => {
  const step = (minutes: number, truth: number, opens: boolean) => ({
    minutes_used: { value: minutes },
    truth,
    opens_circuit: opens,
  });
  const path = { truth_at_start: 0.1, steps: [step(1, 0.4, false), step(16, 0.9, true)] };
  expect(pointsOf(path as never)).toEqual([
    { minutes: 0, truth: 0.1, opens: false },
    { minutes: 1, truth: 0.4, opens: false },
    { minutes: 16, truth: 0.9, opens: true },
  ]);
});

test.each([1, 5, 17, 44, 90, 300])('at most six distances between marks over %i min', (longest) => {
  expect(longest / minuteStep(longest)).toBeLessThanOrEqual(6);
});

test('a cause is found by any of its words, without accents and capitals', () => {
  const causes = [{ label: 'tensión de alimentación baja' }, { label: 'válvulas del compresor gastadas' }];
  expect(matching(causes, 'tension BAJA')).toEqual([causes[0]]);
  expect(matching(causes, 'valv comp')).toEqual([causes[1]]);
  expect(matching(causes, '')).toEqual(causes);
  expect(matching(causes, 'hielo')).toEqual([]);
});
