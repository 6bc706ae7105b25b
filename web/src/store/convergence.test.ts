// Random lives: whatever the interleaving of taps, undos and merges, one standing set; and undo is the inverse
// of what was done. Seeds are fixed, so a failure repeats.
import { expect, test } from 'vitest';
import { canonical, type RawEntry } from './entry';
import { emptyDisk, FaultyPort } from './faulty_port';
import type { OpenCall } from './store';
import { HandClock, makeStore, settle } from './test_surroundings';

/** mulberry32: a small random stream, from memory. */
function stream(seed: number): (below: number) => number {
  return (below) => {
    seed = (seed + 0x6d2b79f5) | 0;
    let t = Math.imul(seed ^ (seed >>> 15), 1 | seed);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return Math.floor((((t ^ (t >>> 14)) >>> 0) / 4294967296) * below);
  };
}
type Random = ReturnType<typeof stream>;

let serial = 0;
const kinds = [
  () => ({ kind: 'reading', what: 'suction_pressure', value: `${++serial} psig` }),
  () => ({ kind: 'site', box: `${++serial} F` }),
  () => ({ kind: 'note', text: `note ${++serial}` }),
  () => ({ kind: 'step', step: `check ${++serial}`, state: 'done' }),
];

/** One random tap. */
async function tap(call: OpenCall, random: Random): Promise<'added' | 'undo' | 'redo'> {
  const standing = call.standing.value;
  const target = standing.length > 0 ? standing[random(standing.length)]! : null;
  switch (random(8)) {
    case 0:
    case 1:
      if (call.canUndo.value) {
        await call.undo();
        return 'undo';
      }
      break;
    case 2:
      if (call.canRedo.value) {
        await call.redo();
        return 'redo';
      }
      break;
    case 3:
    case 4:
      if (target) {
        const make = kinds.find((k) => k().kind === target.kind)!;
        await call.add({ ...make(), replaces: target.id });
        return 'added';
      }
      break;
    case 5:
      if (target) {
        await call.add({ kind: 'note', text: `away ${++serial}`, replaces: target.id });
        return 'added';
      }
  }
  await call.add(kinds[random(kinds.length)]!());
  return 'added';
}

/** What a person sees, without ids and times: a step taken back and again has new ones. */
const content = (call: OpenCall) =>
  call.standing.value.map(({ id: _, at: __, replaces: ___, ...rest }) => JSON.stringify(rest)).sort();
/** What devices must agree on. */
const agreed = (call: OpenCall) => [
  call.name.value,
  call.standing.value.map((e) => canonical(e)).sort(),
  call.apart.value.map((e) => e.id).sort(),
];

test.each(Array.from({ length: 40 }, (_, i) => i))('undo and redo are inverse, life %i', async (seed) => {
  const random = stream(seed);
  const call = await (await makeStore({ port: new FaultyPort(emptyDisk()) })).create('x');
  const before: string[][] = [];
  const ahead: string[][] = [];
  for (let i = 0; i < 60; ++i) {
    const now = content(call);
    const what = await tap(call, random);
    if (what === 'undo') {
      expect(content(call)).toEqual(before.pop());
      ahead.push(now);
    } else if (what === 'redo') {
      expect(content(call)).toEqual(ahead.pop());
      before.push(now);
    } else {
      before.push(now);
      ahead.length = 0;
    }
    expect([call.canUndo.value, call.canRedo.value]).toEqual([before.length > 0, ahead.length > 0]);
  }
});

/** The core's rules for a file: core/calls/fold.cpp, corrections. */
function coreTakes(entries: readonly RawEntry[]): void {
  const ids = new Map(entries.map((e) => [e.id, e]));
  expect(ids.size).toBe(entries.length);
  for (const entry of entries) {
    expect(new TextEncoder().encode(entry.id).length).toBeLessThanOrEqual(80);
    if (entry.replaces === undefined) continue;
    const target = ids.get(entry.replaces);
    expect(target).toBeDefined();
    if (entry.kind !== 'note') expect(target!.kind).toBe(entry.kind);
    let at: RawEntry | undefined = entry;
    for (let steps = 0; at?.replaces !== undefined; ++steps) {
      expect(steps).toBeLessThan(entries.length);
      at = ids.get(at.replaces);
    }
  }
}

test.each(Array.from({ length: 25 }, (_, i) => i))('devices converge, life %i', async (seed) => {
  const random = stream(1000 + seed);
  const clocks = [new HandClock(), new HandClock(), new HandClock()];
  const stores = await Promise.all(
    clocks.map((clock) => makeStore({ port: new FaultyPort(emptyDisk()), clock })),
  );
  const first = await stores[0]!.create('x', [{ kind: 'note', text: 'given' }]);
  const start = await first.exportFile();
  const calls = [first, await stores[1]!.importFile(start), await stores[2]!.importFile(start)];
  const merge = async (from: number, to: number) => {
    const file = await calls[from]!.exportFile();
    coreTakes((JSON.parse(await file.text()) as { entries: RawEntry[] }).entries);
    (await stores[to]!.importFile(file)).close();
  };
  for (let i = 0; i < 50; ++i) {
    const who = random(3);
    clocks[who]!.time += random(5) === 0 ? (random(2000) - 1000) * 3_600_000 : random(60_000);
    if (random(6) === 0) await merge(who, (who + 1 + random(2)) % 3);
    else if (random(12) === 0) await calls[who]!.rename(`name ${++serial}`);
    else await tap(calls[who]!, random);
  }
  for (let round = 0; round < 2; ++round)
    for (const [from, to] of [
      [0, 1],
      [1, 2],
      [2, 0],
      [0, 1],
      [2, 1],
      [1, 0],
    ] as const)
      await merge(from, to);
  expect(agreed(calls[1]!)).toEqual(agreed(calls[0]!));
  expect(agreed(calls[2]!)).toEqual(agreed(calls[0]!));
  expect(calls[0]!.apart.value).toEqual([]);
  expect(calls.map((call) => call.log.value.length)).toEqual(calls.map(() => first.log.value.length));
});

test('tabs of one device converge with overlapping taps', async () => {
  const random = stream(7);
  const disk = emptyDisk();
  const name = crypto.randomUUID();
  const one = await makeStore({ port: new FaultyPort(disk), name });
  const two = await makeStore({ port: new FaultyPort(disk), name });
  const a = await one.create('x');
  const b = (await two.open(a.id))!;
  for (let i = 0; i < 60; ++i) {
    await Promise.all([tap(a, random), tap(b, random), random(2) ? tap(a, random) : null]);
    if (random(2)) await settle(2);
  }
  await settle();
  expect(agreed(a)).toEqual(agreed(b));
  expect(a.log.value).toEqual(b.log.value);
  expect([a.trouble.value, b.trouble.value]).toEqual([null, null]);
});
