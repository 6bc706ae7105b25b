// Killed at every point where the store waits: what was tapped is there afterwards, once, in its order.
import 'fake-indexeddb/auto';
import { expect, test } from 'vitest';
import type { LogRecord } from './entry';
import { emptyDisk, FaultyPort, type Disk } from './faulty_port';
import { IdbPort } from './idb_port';
import type { LocalStore } from './local_store';
import type { Port } from './port';
import { makeStore, MemoryStorage, settle } from './test_surroundings';

interface Lived {
  tapped: string[];
  durable: string[];
  call: string | null;
}
const note = (text: string) => ({ kind: 'note', text });

/** A short life: a call, five entries of which some overlap, an undo. Stops for good where the port is killed. */
async function live(store: LocalStore, lived: Lived): Promise<void> {
  const call = await store.create('x');
  lived.call = call.id;
  const tap = (text: string) => {
    lived.tapped.push(text);
    return call.add(note(text)).then(() => void lived.durable.push(text));
  };
  await tap('a');
  await Promise.all([tap('b'), tap('c')]);
  await tap('d');
  const taking = call.undo();
  lived.tapped.push('undo');
  await taking;
  lived.durable.push('undo');
  await tap('e');
}
const told = (records: readonly LogRecord[]) =>
  records
    .filter((r) => r.entry.kind === 'note')
    .map((r) => (r.entry.id.startsWith('withdraw-') ? 'undo' : (r.entry.text as string)));

async function after(port: Port, storage: MemoryStorage, lived: Lived): Promise<void> {
  const store = await makeStore({ port, storage });
  if (lived.call === null) return;
  const records = await port.since(lived.call, 0);
  expect(told(records)).toEqual(lived.tapped);
  expect(records.map((r) => r.seq)).toEqual(records.map((_, i) => i + 1));
  expect(storage.kept.size).toBe(0);
  const standing = lived.tapped.includes('undo')
    ? lived.tapped.filter((t) => t !== 'd' && t !== 'undo')
    : lived.tapped;
  expect((await store.open(lived.call))!.standing.value.map((e) => e.text)).toEqual(standing);
}

test('in the middle of any step of the port', async () => {
  let survived = false;
  let kills = 0;
  for (let at = 1; !survived; ++at) {
    const disk: Disk = emptyDisk();
    const storage = new MemoryStorage();
    const port = new FaultyPort(disk);
    const lived: Lived = { tapped: [], durable: [], call: null };
    let steps = 0;
    port.fault = () => (++steps === at ? 'kill' : null);
    const life = makeStore({ port, storage }).then((store) => live(store, lived));
    survived = (await Promise.race([life.then(() => 'lived'), settle()])) === 'lived';
    if (!survived) ++kills;
    await after(new FaultyPort(disk), storage, lived);
    // killed again during recovery, and once more: the same
    await after(new FaultyPort(disk), storage, lived);
  }
  expect(kills).toBeGreaterThan(20);
});

test('in recovery itself, at any step', async () => {
  for (let at = 1; at < 20; ++at) {
    const disk = emptyDisk();
    const storage = new MemoryStorage();
    const first = new FaultyPort(disk);
    const lived: Lived = { tapped: [], durable: [], call: null };
    let writes = 0;
    first.fault = (step) => (step === 'write' && ++writes === 3 ? 'kill' : null);
    await Promise.race([makeStore({ port: first, storage }).then((store) => live(store, lived)), settle()]);
    expect(lived.tapped).toEqual(['a', 'b', 'c']);
    const second = new FaultyPort(disk);
    let steps = 0;
    second.fault = () => (++steps === at ? 'kill' : null);
    await Promise.race([makeStore({ port: second, storage }), settle()]);
    await after(new FaultyPort(disk), storage, lived);
  }
});

/** Kills before or after the nth transaction of a real database. */
function killing(inner: Port, at: number, when: 'before' | 'after'): Port {
  let appends = 0;
  const never = () => new Promise<never>(() => {});
  return new Proxy(inner, {
    get(target, key: keyof Port) {
      if (key !== 'append') return target[key];
      const append: Port['append'] = async (...args) => {
        const now = ++appends;
        if (now > at || (now === at && when === 'before')) return never();
        const result = await target.append(...args);
        return now === at ? never() : result;
      };
      return append;
    },
  });
}

test.each(['before', 'after'] as const)('%s any transaction of IndexedDB', async (when) => {
  for (let at = 1; at <= 7; ++at) {
    const name = crypto.randomUUID();
    const storage = new MemoryStorage();
    const lived: Lived = { tapped: [], durable: [], call: null };
    const port = killing(new IdbPort(name), at, when);
    const life = makeStore({ port, storage }).then((store) => live(store, lived));
    await Promise.race([life, settle(150)]);
    expect(lived.durable.length).toBeLessThan(6);
    await after(new IdbPort(name), storage, lived);
  }
});

test('a second tab that recovers what the first is just writing does no harm', async () => {
  const disk = emptyDisk();
  const storage = new MemoryStorage();
  const slow = new FaultyPort(disk);
  const one = await makeStore({ port: slow, storage });
  const call = await one.create('x');
  let release = () => {};
  const held = new Promise<void>((resolve) => (release = resolve));
  const append = slow.append;
  slow.append = async (...args) => {
    await held;
    return append(...args);
  };
  const adding = call.add(note('a'));
  const two = await makeStore({ port: new FaultyPort(disk), storage });
  expect((await two.open(call.id))!.log.value).toHaveLength(1);
  release();
  await adding;
  expect(told(disk.entries)).toEqual(['a']);
  expect(call.log.value).toHaveLength(1);
});
