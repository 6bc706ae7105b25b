// The plan's order, the settings of a run, the readings of a test: what the screens fold and append.
import { expect, test } from 'vitest';
import type { Entry } from '../../../store/store';
import { atTimeOfDay, elapsed, timeOfDay } from './clock_text';
import { arranged, moved, nextOpen, orderChange, orderOf, stepChange } from './plan';
import { readingsOfRun, runsOf, saidElsewhere, settingChange, settingsOf } from './settings';

const steps = ['a', 'b', 'c', 'd'].map((key) => ({ key }));
const keys = (list: { key: string }[]) => list.map((s) => s.key).join('');
let n = 0;
const entry = (content: Record<string, unknown>): Entry =>
  ({ id: `e${++n}`, at: new Date(Date.UTC(2026, 0, 2, 10, n)).toISOString(), ...content }) as Entry;

test('steps stand in the order given by hand, what it does not name behind its predecessor', () => {
  expect(keys(arranged(steps, []))).toBe('abcd');
  expect(keys(arranged(steps, ['c', 'a', 'b', 'd']))).toBe('cabd');
  expect(keys(arranged(steps, ['d', 'b', 'gone', 'd']))).toBe('adbc');
});

test('a move changes places with the neighbour and stops at the ends', () => {
  expect(moved(['a', 'b', 'c'], 'b', -1)).toEqual(['b', 'a', 'c']);
  expect(moved(['a', 'b', 'c'], 'b', 1)).toEqual(['a', 'c', 'b']);
  expect(moved(['a', 'b', 'c'], 'a', -1)).toEqual(['a', 'b', 'c']);
  expect(moved(['a', 'b', 'c'], 'c', 1)).toEqual(['a', 'b', 'c']);
});

test('order and steps replace what they said before', () => {
  const first = entry({ kind: 'order', steps: ['b', 'a'] });
  expect(orderChange([], ['a'])).toEqual({ kind: 'order', steps: ['a'] });
  expect(orderChange([first], ['a', 'b'])).toEqual({ kind: 'order', steps: ['a', 'b'], replaces: first.id });
  expect(orderOf([entry({ kind: 'order', steps: ['a', 'b'] }), first].reverse())).toEqual(['a', 'b']);
  expect(stepChange('rise', undefined, 'skipped', 'no gauge')).toEqual({
    kind: 'step',
    step: 'rise',
    state: 'skipped',
    reason: 'no gauge',
  });
  expect(nextOpen(steps, (key) => (key === 'a' ? 'done' : key === 'b' ? 'skipped' : 'open'))?.key).toBe('c');
  expect(nextOpen(steps, () => 'done')).toBeNull();
});

test('settings of a run fold by key, and a change replaces the entry that holds them', () => {
  const one = entry({ kind: 'procedure', procedure: 'rise', run: 1, with: { volume: '1 L', pump: 'off' } });
  const two = entry({ kind: 'procedure', procedure: 'rise', with: { volume: '2 L' } });
  const other = entry({ kind: 'procedure', procedure: 'rise', run: 2, with: { volume: '9 L' } });
  const all = [one, two, other];
  expect(Object.fromEntries(settingsOf(all, 'rise', 1))).toEqual({ volume: '2 L', pump: 'off' });
  expect(settingChange(all, 'rise', 1, 'volume', '2 L')).toEqual([]);
  expect(settingChange(all, 'rise', 1, 'volume', '3 L')).toEqual([
    {
      kind: 'procedure',
      procedure: 'rise',
      run: 1,
      with: { volume: '3 L', pump: 'off' },
      replaces: two.id,
    },
  ]);
  expect(settingChange([other], 'rise', 2, 'volume', '')).toEqual([
    { kind: 'note', text: '-', replaces: other.id },
  ]);
  expect(settingChange([], 'rise', 1, 'volume', '1 L')).toEqual([
    { kind: 'procedure', procedure: 'rise', run: 1, with: { volume: '1 L' } },
  ]);
});

test('taking a setting away takes it from every entry that says it', () => {
  const one = entry({ kind: 'procedure', procedure: 'rise', run: 1, with: { volume: '1 L', pump: 'off' } });
  const two = entry({ kind: 'procedure', procedure: 'rise', run: 1, with: { volume: '2 L' } });
  const changes = settingChange([one, two], 'rise', 1, 'volume', '');
  const ids = new Set(changes.map((c) => c.replaces));
  const left = [one, two].filter((e) => !ids.has(e.id));
  const made = changes.filter((c) => c.kind === 'procedure').map((c) => entry(c));
  expect(Object.fromEntries(settingsOf([...left, ...made], 'rise', 1))).toEqual({ pump: 'off' });
});

test('a setting given elsewhere in the call is offered, the latest of them', () => {
  const one = entry({ kind: 'procedure', procedure: 'tightness', run: 1, with: { volume: '1 L' } });
  const two = entry({ kind: 'procedure', procedure: 'rise', run: 1, with: { volume: '2 L' } });
  expect(saidElsewhere([two, one], 'rise', 1, 'volume')).toEqual({ procedure: 'tightness', text: '1 L' });
  expect(saidElsewhere([two, one], 'rise', 2, 'volume')).toEqual({ procedure: 'rise', text: '2 L' });
  expect(saidElsewhere([one], 'tightness', 1, 'volume')).toBeNull();
  expect(saidElsewhere([one, two], 'proof', 1, 'bore')).toBeNull();
});

test('runs and their readings', () => {
  const late = entry({ kind: 'test_reading', procedure: 'rise', run: 2, pressure: '500 micron', at: '' });
  late.at = '2026-01-02T12:00:00Z';
  const early = { ...late, id: 'early', at: '2026-01-02T11:30:00+00:00' } as Entry;
  const first = entry({ kind: 'test_reading', procedure: 'rise', pressure: '400 micron' });
  expect(runsOf([], 'rise')).toEqual([1]);
  expect(runsOf([late, first], 'rise')).toEqual([1, 2]);
  expect(readingsOfRun([late, early, first], 'rise', 2).map((e) => e.id)).toEqual(['early', late.id]);
});

test('elapsed times and times of day', () => {
  expect([0, 7_000, 750_000, 3_900_000, -5].map(elapsed)).toEqual([
    '0:00',
    '0:07',
    '12:30',
    '1:05:00',
    '0:00',
  ]);
  const near = new Date(2026, 0, 2, 0, 5, 0).getTime();
  expect(timeOfDay(near)).toBe('00:05:00');
  const before = atTimeOfDay('23:58', near, near)!;
  expect(new Date(before).getDate()).toBe(1); // before midnight, not eighteen hours ahead
  expect(atTimeOfDay('00:04:30', near, near)).toBe(near - 30_000);
  expect(atTimeOfDay('24:00', near, near)).toBeNull();
  expect(atTimeOfDay('', near, near)).toBeNull();
});
