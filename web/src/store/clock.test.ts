// A clock set wrong: order stays, nothing is lost, and no time is ahead of the clock the core is told.
import { expect, test } from 'vitest';
import { drawnBack, formatInstant, nextAt, parseInstant } from './clock';
import { emptyDisk, FaultyPort } from './faulty_port';
import type { LogRecord, RawEntry } from './entry';
import type { OpenCall } from './store';
import { HandClock, makeStore } from './test_surroundings';

const hour = 3_600_000;
const reading = (value: string) => ({ kind: 'reading', what: 'suction_pressure', value });
const order = (entries: readonly object[]) =>
  (entries as RawEntry[]).toSorted((a, b) => parseInstant(a.at!) - parseInstant(b.at!)).map((e) => e.value);

test('reads and writes times as the call file has them', () => {
  expect(formatInstant(Date.UTC(2025, 10, 20, 8, 30), 60)).toBe('2025-11-20T09:30:00.000+01:00');
  expect(formatInstant(Date.UTC(2025, 10, 20, 2), -210)).toBe('2025-11-19T22:30:00.000-03:30');
  for (const text of ['2025-11-20T09:30:00+01:00', '2025-11-20 09:30+01:00', '2025-11-20t08:30:00.0z'])
    expect(parseInstant(text)).toBe(Date.UTC(2025, 10, 20, 8, 30));
  for (const text of ['2025-11-20', '2025-11-20T09:30:00', 'now', '2025-13-20T09:30:00Z', ''])
    expect(parseInstant(text)).toBeNaN();
});

test('a new entry is always the latest', () => {
  const clock = new HandClock();
  expect(parseInstant(nextAt(clock, -Infinity))).toBe(clock.time);
  expect(parseInstant(nextAt(clock, clock.time + hour))).toBe(clock.time + hour + 1);
  clock.time = 0;
  expect(parseInstant(nextAt(clock, -Infinity))).toBeGreaterThan(Date.UTC(2025, 10, 1));
});

async function jumping(jumps: number[]): Promise<{ call: OpenCall; clock: HandClock }> {
  const clock = new HandClock();
  const call = await (await makeStore({ port: new FaultyPort(emptyDisk()), clock })).create('x');
  let n = 0;
  for (const jump of jumps) {
    clock.time += jump;
    await call.add(reading(`${++n} psig`));
    clock.time += 60_000;
    await call.add(reading(`${++n} psig`));
  }
  return { call, clock };
}
const expected = (n: number) => Array.from({ length: n }, (_, i) => `${i + 1} psig`);

test.each([
  ['back an hour', [0, -hour]],
  ['ahead a year and right again', [0, 365 * 24 * hour, -365 * 24 * hour]],
  ['to 1970 and right again', [0, -Date.UTC(2026, 5, 1), Date.UTC(2026, 5, 1)]],
  ['to and fro', [0, 5 * hour, -9 * hour, 2 * hour, 400 * hour, -399 * hour]],
])('a clock that jumps %s', async (_name, jumps) => {
  const { call, clock } = await jumping(jumps);
  const n = jumps.length * 2;
  expect(call.log.value.map((e) => e.value)).toEqual(expected(n));
  expect(order(call.log.value)).toEqual(expected(n));
  const asked = call.file().entries as RawEntry[];
  expect(order(asked)).toEqual(expected(n));
  for (const entry of asked) expect(parseInstant(entry.at!)).toBeLessThanOrEqual(clock.time);
  const file = JSON.parse(await (await call.exportFile()).text()) as { entries: RawEntry[] };
  const readings = file.entries.filter((e) => e.kind === 'reading');
  expect(order(readings)).toEqual(expected(n));
  for (const entry of file.entries.filter((e) => e.at))
    expect(parseInstant(entry.at!)).toBeLessThanOrEqual(clock.time + 5 * 60_000);
  expect(await (await call.exportFile()).text()).toBe(await (await call.exportFile()).text());
});

test('what was read after the clock was set right keeps its own time', async () => {
  const { call, clock } = await jumping([365 * 24 * hour, -365 * 24 * hour]);
  await call.exportFile();
  const [, , third, fourth] = call.log.value;
  expect(parseInstant(third!.at)).toBe(clock.time - 60_000);
  expect(parseInstant(fourth!.at)).toBe(clock.time);
});

test('a clock that has lost its date changes no time for good', async () => {
  const { call, clock } = await jumping([0]);
  const before = call.log.value;
  clock.time = 0;
  await call.exportFile();
  expect(call.log.value).toEqual(before);
  expect(parseInstant((call.file().entries as RawEntry[])[0]!.at!)).toBeLessThanOrEqual(0);
});

test('entries at one time stay at one time: the core calls that a contradiction', () => {
  const at = '2026-06-02T10:00:00+02:00';
  const records = ['a', 'b'].map((id, i): LogRecord => ({
    ...{ call: 'c', seq: i + 1, own: false, noted: '2026-06-01T00:00:00Z' },
    entry: { id, kind: 'note', at },
  }));
  const back = drawnBack(records, (r) => parseInstant(r.entry.at!), Date.UTC(2026, 5, 1));
  expect(back.get('a')).toBe(back.get('b'));
  expect(back.get('a')).toBe(Date.UTC(2026, 5, 1));
});

test('one entry with two times counts at the earlier, on every device', async () => {
  const ahead = { id: 'r', at: '2027-06-01T10:00:00+02:00', ...reading('1 psig') };
  const right = { ...ahead, at: '2026-06-01T09:00:00+02:00' };
  const file = (entry: object) => new Blob([JSON.stringify({ call: 'x', entries: [entry] })]);
  for (const order of [
    [ahead, right],
    [right, ahead],
  ]) {
    const store = await makeStore({ port: new FaultyPort(emptyDisk()) });
    const call = await store.importFile(file(order[0]!));
    await store.importFile(file(order[1]!));
    expect(call.log.value).toMatchObject([{ id: 'r', at: right.at }]);
    expect(call.apart.value).toEqual([]);
    expect(store.calls.value).toHaveLength(1);
  }
});
