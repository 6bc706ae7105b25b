// What is written down of the work, and the account of refrigerant by cylinder.
import { expect, test } from 'vitest';
import type { Entry } from '../../../store/store';
import {
  accountOf,
  complete,
  entryKinds,
  entryOf,
  massesIn,
  movementOf,
  shownFields,
  valuesOf,
} from './kinds';

const moved = entryKinds.find((k) => k.kind === 'refrigerant_moved')!;
const entry = (content: object): Entry => ({ id: 'x', at: '2026-01-02T10:00:00Z', kind: '', ...content });

test('a movement is weighed or said, never both', () => {
  const scale = { movement: 'charged', how_much: 'scale', mass: '9 kg', before: '3 kg', after: '2.9 kg' };
  expect(shownFields(moved, scale).map((f) => f.key)).not.toContain('mass');
  expect(entryOf(moved, scale, null)).toEqual({
    kind: 'refrigerant_moved',
    movement: 'charged',
    before: '3 kg',
    after: '2.9 kg',
  });
  expect(complete(moved, scale)).toBe(true);
  expect(complete(moved, { ...scale, after: ' ' })).toBe(false);
  expect(complete(moved, { movement: 'lost', how_much: 'mass' })).toBe(false);
});

test('a correction replaces and comes back as it was', () => {
  const before = entry({ kind: 'refrigerant_moved', movement: 'charged', before: '3 kg', after: '2.9 kg' });
  const values = valuesOf(moved, before);
  expect(entryOf(moved, values, before)).toEqual({
    kind: 'refrigerant_moved',
    movement: 'charged',
    before: '3 kg',
    after: '2.9 kg',
    replaces: 'x',
  });
});

test('the account sums in and out by cylinder, and what went to the air', () => {
  const kilograms = (text: string) => {
    const m = /^([\d.]+) (g|kg)$/.exec(text);
    return m ? Number(m[1]) * (m[2] === 'g' ? 1e-3 : 1) : null;
  };
  const movements = [
    { movement: 'recovered', before: '5 kg', after: '5.06 kg', cylinder: 'R1' },
    { movement: 'recovered', mass: '10 g', cylinder: 'R1' },
    { movement: 'charged', before: '3.2 kg', after: '3.11 kg', cylinder: 'C2' },
    { movement: 'charged', mass: '5 g' },
    { movement: 'released', mass: '20 g' },
    { movement: 'lost', mass: '1 g' },
    { movement: 'charged', mass: 'some' },
  ].map((m) => movementOf(entry({ kind: 'refrigerant_moved', ...m })));
  const account = accountOf(movements, kilograms);
  const rounded = account.rows.map((r) => ({
    ...r,
    into: Number(r.into.toFixed(6)),
    outOf: Number(r.outOf.toFixed(6)),
  }));
  expect(rounded).toEqual([
    { cylinder: 'R1', into: 0.07, outOf: 0 },
    { cylinder: 'C2', into: 0, outOf: 0.09 },
    { cylinder: '', into: 0, outOf: 0.005 },
  ]);
  expect(account.gone).toBeCloseTo(0.021, 9);
  expect(account.unknown).toBe(1);
  expect(massesIn(movements)).toEqual([
    '5 kg',
    '5.06 kg',
    '10 g',
    '3.2 kg',
    '3.11 kg',
    '5 g',
    '20 g',
    '1 g',
    'some',
  ]);
});
