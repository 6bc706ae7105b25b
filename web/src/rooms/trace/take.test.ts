// Findings of a trace in a call: at their own time, found again, taken out, and that undone.
import 'fake-indexeddb/auto';
import { expect, test } from 'vitest';
import type { TraceAnswer } from '../../engine/engine';
import { IdbPort } from '../../store/idb_port';
import { makeStore } from '../../store/test_surroundings';
import { entriesOf, momentOf, stands, takeInto, takenOf, takeOut } from './take';

const start = Date.UTC(2026, 2, 4, 6) / 1000;
const answerOf = (file: object, entries: object[]) =>
  ({
    files: [{ name: 'log.csv', main: true, ...file }],
    evidence: { entries, to: 3600 },
  }) as unknown as TraceAnswer;
const found = [
  { kind: 'site', box: '4.2 C' },
  { kind: 'reading', what: 'suction_pressure', value: '21.3 psia', instrument: 'trace log.csv' },
  { kind: 'observation', subject: 'compressor', value: 'running', confidence: '85 %' },
];
const made = async () => (await makeStore({ port: new IdbPort(crypto.randomUUID()) })).create('Fish hall');

test('a file without a zone is read by the phone’s clock, one without dates has no time', () => {
  const local = momentOf(answerOf({ start, zoned: false }, []), 3600)!;
  expect(new Date(local).getHours()).toBe(7);
  const zoned = momentOf(answerOf({ start, zoned: true }, []), 3600);
  expect(zoned).toBe('2026-03-04T07:00:00.000Z');
  expect(local, 'this machine’s zone is another').not.toBe(zoned);
  expect(momentOf(answerOf({ start: null, zoned: false }, []), 3600)).toBeNull();
});

test('an entry’s own time counts', () => {
  const [first, second] = entriesOf(
    answerOf({ start, zoned: true }, [{ kind: 'site', box: '4 C', at: '2026-03-04T01:00:00Z' }, found[1]!]),
  );
  expect(first!.at).toBe('2026-03-04T01:00:00Z');
  expect(second!.at).toBe('2026-03-04T07:00:00.000Z');
});

test('taken, found, known as taken, taken out, and that undone', async () => {
  const call = await made();
  const answer = answerOf({ start: null, zoned: false }, found);
  await takeInto(call, answer);
  const kinds = () => call.standing.value.map((e) => e.kind);
  expect(kinds()).toEqual(['trace_taken', 'site', 'reading', 'observation']);
  expect(takenOf(call)).toMatchObject([{ files: ['log.csv'], stand: [{}, {}, {}] }]);
  expect(stands(call, answer)).toBe(true);
  expect(stands(call, answerOf({ name: 'other.csv', start: null }, found))).toBe(false);
  await call.undo();
  expect(kinds()).toEqual(['trace_taken', 'site', 'reading']);
  expect(stands(call, answer), 'in part is not taken').toBe(false);
  await call.redo();
  expect(stands(call, answer), 'done again is taken').toBe(true);
  await takeOut(call, takenOf(call)[0]!);
  expect(kinds()).toEqual([]);
  for (let i = 0; i < 4; ++i) await call.undo();
  expect(kinds().sort()).toEqual(['observation', 'reading', 'site', 'trace_taken']);
  expect(takenOf(call)[0]!.stand.length, 'all of it is known again').toBe(3);
  for (let i = 0; i < 4; ++i) await call.undo();
  expect(kinds()).toEqual([]);
});

test('the core is asked of the findings and not of the app’s own kind', async () => {
  const call = await made();
  await takeInto(call, answerOf({ start: null, zoned: false }, found));
  expect(call.file().entries.map((e) => (e as { kind: string }).kind)).toEqual([
    'site',
    'reading',
    'observation',
  ]);
});
