import { expect, test } from 'vitest';
import type { Entry } from '../../../store/store';
import {
  against,
  changeField,
  fieldsOf,
  latestOf,
  photosOf,
  readingsOf,
  seenOf,
  stateOf,
  stepsOf,
} from './fold';

let n = 0;
const entry = (kind: string, more: object): Entry => ({
  id: `e${++n}`,
  at: `2026-06-01T08:${String(n).padStart(2, '0')}:00Z`,
  kind,
  ...more,
});

test('a plate in several entries is one plate, each field with its entry', () => {
  const a = entry('nameplate', { cabinet: 'reach_in_cooler', charge: '3 oz' });
  const b = entry('nameplate', { refrigerant: 'R290', by: 'Ebba' });
  const fields = fieldsOf([a, b, entry('site', { box: '40 F' })], 'nameplate');
  expect([...fields.keys()].sort()).toEqual(['cabinet', 'charge', 'refrigerant']);
  expect(fields.get('charge')).toBe(a);
});

test('a changed field writes its whole entry again and replaces it', () => {
  const a = entry('nameplate', { cabinet: 'reach_in_cooler', charge: '3 oz' });
  expect(changeField([a], 'nameplate', 'charge', '4 oz')).toEqual([
    { kind: 'nameplate', cabinet: 'reach_in_cooler', charge: '4 oz', replaces: a.id },
  ]);
});

test('a new field is an entry of its own', () => {
  const a = entry('nameplate', { cabinet: 'reach_in_cooler' });
  expect(changeField([a], 'nameplate', 'charge', '4 oz')).toEqual([{ kind: 'nameplate', charge: '4 oz' }]);
});

test('a cleared field goes; an entry left with nothing is withdrawn', () => {
  const a = entry('nameplate', { cabinet: 'reach_in_cooler', charge: '3 oz' });
  const b = entry('site', { box: '40 F' });
  expect(changeField([a, b], 'nameplate', 'charge', null)).toEqual([
    { kind: 'nameplate', cabinet: 'reach_in_cooler', replaces: a.id },
  ]);
  expect(changeField([a, b], 'site', 'box', null)).toEqual([{ kind: 'note', text: '-', replaces: b.id }]);
});

test('two entries that contradict each other end as one', () => {
  const a = entry('nameplate', { charge: '3 oz', refrigerant: 'R290' });
  const b = entry('nameplate', { charge: '4 oz' });
  expect(changeField([a, b], 'nameplate', 'charge', '5 oz')).toEqual([
    { kind: 'nameplate', refrigerant: 'R290', replaces: a.id },
    { kind: 'nameplate', charge: '5 oz', replaces: b.id },
  ]);
});

test('readings: the latest by time counts, whatever the order of the log; offsets are heeded', () => {
  const late = { ...entry('reading', { what: 'a', value: '2 A' }), at: '2026-06-01T09:00:00+02:00' };
  const later = { ...entry('reading', { what: 'a', value: '3 A' }), at: '2026-06-01T07:30:00Z' };
  const list = [later, late];
  expect(readingsOf(list).get('a')).toEqual([late, later]);
  expect(latestOf(list).get('a')).toBe(later);
});

test('seen and steps: the last word stands', () => {
  const a = entry('observation', { subject: 'drier', value: 'frosted' });
  const b = entry('observation', { subject: 'drier', value: 'same_both_ends' });
  expect(seenOf([a, b]).get('drier')).toBe(b);
  const steps = stepsOf([entry('step', { step: 'safety.x', state: 'skipped', reason: 'r' })]);
  expect(stateOf(steps.get('safety.x'))).toBe('skipped');
  expect(stateOf(steps.get('safety.y'))).toBe('open');
});

test('a correction keeps the photo of what it corrects, another entry does not get it', () => {
  const a = entry('reading', { what: 'a', value: '2 A' });
  const photo = entry('photo', { of: a.id });
  const b = entry('reading', { what: 'a', value: '3 A', replaces: a.id });
  const c = entry('reading', { what: 'a', value: '4 A' });
  expect(photosOf([a, photo, b, c], [photo, b, c], b)).toEqual([photo]);
  expect(photosOf([a, photo, b, c], [photo, b, c], c)).toEqual([]);
});

test('against the range of a sound machine, its edges within', () => {
  expect([0, 1, 2, 3].map((v) => against(v, 1, 2))).toEqual(['below', 'within', 'within', 'above']);
});
