// The store as the screens use it, on IndexedDB: what is shown, undo and redo, two tabs, files.
import 'fake-indexeddb/auto';
import { expect, test } from 'vitest';
import { IdbPort } from './idb_port';
import type { OpenCall } from './store';
import { HandClock, makeStore, MemoryStorage, settle } from './test_surroundings';

const fresh = () => makeStore({ port: new IdbPort(crypto.randomUUID()), storage: new MemoryStorage() });
const values = (call: OpenCall) => call.standing.value.map((e) => e.value ?? e.text ?? e.id);
const reading = (value: string, replaces?: string) => ({
  kind: 'reading',
  what: 'suction_pressure',
  value,
  ...(replaces ? { replaces } : {}),
});

test('shows an entry at once and finds it again', async () => {
  const name = crypto.randomUUID();
  const store = await makeStore({ port: new IdbPort(name) });
  const call = await store.create('Fish hall');
  const added = call.add(reading('31.5 psig'));
  expect(values(call)).toEqual(['31.5 psig']);
  await added;
  const later = await makeStore({ port: new IdbPort(name) });
  const found = await later.open(call.id);
  expect(found!.log.value).toEqual(call.log.value);
  expect(later.calls.value).toMatchObject([
    { id: call.id, name: 'Fish hall', entries: 1, demo: false, open: true },
  ]);
  expect(await later.open('none')).toBeNull();
});

test('undo and redo walk through corrections, withdrawals and notes', async () => {
  const call = await (await fresh()).create('x');
  const states: unknown[][] = [values(call)];
  const step = async (entry: { kind: string; [key: string]: unknown }) => {
    await call.add(entry);
    states.push(values(call).sort());
  };
  const of = (value: string) => call.standing.value.find((e) => e.value === value || e.text === value)!.id;
  await step(reading('31 psig'));
  await step(reading('32 psig', of('31 psig')));
  await step({ kind: 'note', text: 'ice' });
  await step({ kind: 'note', text: 'ice on the inlet', replaces: of('ice') });
  await step({ kind: 'note', text: 'wrong hose', replaces: of('32 psig') });
  await step(reading('33 psig'));
  expect(states.at(-1)).toEqual(['33 psig', 'ice on the inlet']);
  for (let round = 0; round < 3; ++round) {
    for (let i = states.length - 2; i >= 0; --i) {
      expect(call.canUndo.value).toBe(true);
      await call.undo();
      expect(values(call).sort()).toEqual(states[i]);
    }
    expect(call.canUndo.value).toBe(false);
    for (let i = 1; i < states.length; ++i) {
      expect(call.canRedo.value).toBe(true);
      await call.redo();
      expect(values(call).sort()).toEqual(states[i]);
    }
    expect(call.canRedo.value).toBe(false);
  }
  await call.undo();
  await call.add({ kind: 'note', text: 'new' });
  expect(call.canRedo.value).toBe(false);
});

test('several at once are all there or none, and name each other', async () => {
  const call = await (await fresh()).create('x');
  const id = crypto.randomUUID();
  await call.addAll([
    { ...reading('31 psig'), id },
    { kind: 'note', text: 'seen', of: id },
  ]);
  expect(call.standing.value).toMatchObject([
    { id, value: '31 psig' },
    { text: 'seen', of: id },
  ]);
  await expect(call.addAll([reading('32 psig'), reading('33 psig', 'none')])).rejects.toThrow();
  expect(values(call)).toEqual(['31 psig', 'seen']);
  await call.addAll([]);
  await call.undo();
  expect(values(call)).toEqual(['31 psig']);
});

test('undo gives a reading back with its own time, so that what is latest stays latest', async () => {
  const clock = new HandClock();
  const store = await makeStore({ port: new IdbPort(crypto.randomUUID()), clock });
  const call = await store.create('x');
  const old = await call.add(reading('31 psig'));
  clock.time += 60_000;
  await call.add(reading('32 psig', old.id));
  await call.undo();
  expect(call.standing.value).toMatchObject([{ value: '31 psig', at: old.at }]);
});

test('undo takes a name back, and never touches what came from elsewhere', async () => {
  const store = await fresh();
  const call = await store.create('Bakery', [reading('30 psig')], true);
  expect([call.canUndo.value, store.calls.value[0]!.demo]).toEqual([false, true]);
  await call.rename('Bakery, cooler');
  expect([call.name.value, store.calls.value[0]!.name]).toEqual(['Bakery, cooler', 'Bakery, cooler']);
  await call.undo();
  expect([call.name.value, values(call), call.canUndo.value]).toEqual(['Bakery', ['30 psig'], false]);
  await call.redo();
  expect([call.name.value, store.calls.value[0]!.demo]).toEqual(['Bakery, cooler', true]);
});

test('refuses a correction that the core would refuse', async () => {
  const call = await (await fresh()).create('x');
  const read = await call.add(reading('31 psig'));
  await expect(call.add(reading('32 psig', 'nobody'))).rejects.toMatchObject({ kind: 'bad_replaces' });
  const other = { kind: 'observation', subject: 'compressor', value: 'running', replaces: read.id };
  await expect(call.add(other)).rejects.toMatchObject({ kind: 'bad_replaces' });
  expect(values(call)).toEqual(['31 psig']);
});

test('two tabs append and see each other; both taking back one step takes back one', async () => {
  const name = crypto.randomUUID();
  const one = await makeStore({ port: new IdbPort(name), name });
  const two = await makeStore({ port: new IdbPort(name), name });
  const a = await one.create('x');
  const b = (await two.open(a.id))!;
  await Promise.all([a.add(reading('1 psig')), b.add(reading('2 psig')), a.add(reading('3 psig'))]);
  await settle();
  expect(values(a).sort()).toEqual(['1 psig', '2 psig', '3 psig']);
  expect(a.log.value).toEqual(b.log.value);
  await Promise.all([a.undo(), b.undo()]);
  await settle();
  expect(values(a)).toHaveLength(2);
  expect(a.log.value).toEqual(b.log.value);
  await Promise.all([b.redo(), a.redo()]);
  await settle();
  expect(values(b).sort()).toEqual(['1 psig', '2 psig', '3 psig']);
  expect(two.calls.value).toEqual(one.calls.value);
});

test('a call taken off the list comes back, and is gone only when purged', async () => {
  const store = await fresh();
  const call = await store.create('x');
  await call.add(reading('31 psig'));
  call.close();
  await expect(store.purge(call.id)).rejects.toMatchObject({ kind: 'gone' });
  const back = await store.remove(call.id);
  expect([store.calls.value, await store.open(call.id)]).toEqual([[], null]);
  await back();
  expect(values((await store.open(call.id))!)).toEqual(['31 psig']);
  await store.remove(call.id);
  await store.purge(call.id);
  expect([await store.port.since(call.id, 0), store.calls.value]).toEqual([[], []]);
});

test('drafts are there at the next keystroke and gone when set to nothing', async () => {
  const storage = new MemoryStorage();
  const store = await makeStore({ port: new IdbPort(crypto.randomUUID()), storage });
  store.draft('reading').value = '31.';
  const later = await makeStore({ port: new IdbPort(crypto.randomUUID()), storage });
  expect(later.draft('reading').value).toBe('31.');
  later.draft('reading').value = '';
  expect(storage.kept.size).toBe(0);
});

test('a reading counts when it was read, not when it was typed, and never in time to come', async () => {
  const clock = new HandClock();
  const store = await makeStore({
    port: new IdbPort(crypto.randomUUID()),
    storage: new MemoryStorage(),
    clock,
  });
  const call = await store.create('x');
  const test = (at: number) => ({ kind: 'test_reading', procedure: 'rise', at: new Date(at).toISOString() });
  const now = clock.now();
  const before = await call.add({ ...test(now - 90_000), pressure: '500 micron' });
  expect(Date.parse(before.at)).toBe(now - 90_000);
  const ahead = await call.add({ ...test(now + 3600_000), pressure: '510 micron' });
  expect(Date.parse(ahead.at)).toBeLessThan(now + 60_000);
  const nonsense = await call.add({ kind: 'note', text: 'a', at: 'noon' });
  expect(Date.parse(nonsense.at)).toBeGreaterThan(Date.parse(ahead.at));
  // A correction keeps the time it is given, and undo gives back the former value with its own.
  await call.add({ ...test(now - 30_000), pressure: '520 micron', replaces: before.id });
  expect(call.standing.value.find((e) => e.pressure === '520 micron')!.at).toContain(
    new Date(now - 30_000).toISOString().slice(17, 23),
  );
  await call.undo();
  const back = call.standing.value.find((e) => e.pressure === '500 micron');
  expect(Date.parse(back!.at)).toBe(now - 90_000);
});

test('what was learned is kept, and two tabs that learn at once both count', async () => {
  const name = crypto.randomUUID();
  const [one, two] = [
    await makeStore({ port: new IdbPort(name) }),
    await makeStore({ port: new IdbPort(name) }),
  ];
  const learn = (what: string) => async (now: string | null) => {
    await settle();
    return `${now ?? ''}${what}`;
  };
  await Promise.all([one.changeMemory(learn('a')), two.changeMemory(learn('b'))]);
  const later = await makeStore({ port: new IdbPort(name) });
  expect([...later.memory.value!].sort().join('')).toBe('ab');
  await later.changeMemory(async () => null);
  expect(later.memory.value).toBeNull();
});
