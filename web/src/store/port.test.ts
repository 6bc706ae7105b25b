// One suite for both ports: what the store relies on.
import 'fake-indexeddb/auto';
import { expect, test, describe } from 'vitest';
import { openDB } from 'idb';
import type { LogRecord, NewRecord } from './entry';
import { emptyDisk, FaultyPort } from './faulty_port';
import { IdbPort, schemaVersion } from './idb_port';
import { troubleOf, type Port } from './port';
import { headOf } from './standing';

const record = (id: string): NewRecord => ({
  entry: { id, kind: 'note', at: '2026-06-01T10:00:00+02:00', text: id },
  own: true,
  noted: '2026-06-01T08:00:00.000Z',
});
const add = (port: Port, call: string, after: number, ...ids: string[]) =>
  port.append(call, after, () => ({ records: ids.map(record), head: (all) => headOf(call, all) }));
const ids = (records: readonly LogRecord[]) => records.map((r) => r.entry.id);

const makers: [string, () => Port][] = [
  ['in memory', () => new FaultyPort(emptyDisk())],
  ['IndexedDB', () => new IdbPort(crypto.randomUUID())],
];

describe.each(makers)('a port %s', (_name, make) => {
  test('numbers entries inside the transaction, from what is there', async () => {
    const port = make();
    const [a, b] = await Promise.all([add(port, 'c', 0, 'one', 'two'), add(port, 'c', 0, 'three')]);
    expect(a.map((r) => r.seq)).toEqual([1, 2]);
    expect(ids(b)).toEqual(['one', 'two', 'three']);
    expect(b.map((r) => r.seq)).toEqual([1, 2, 3]);
    expect(ids(await port.since('c', 1))).toEqual(['two', 'three']);
    expect(await port.since('d', 0)).toEqual([]);
  });

  test('takes a whole batch or nothing', async () => {
    const port = make();
    await add(port, 'c', 0, 'one');
    await expect(add(port, 'c', 0, 'two', 'one')).rejects.toThrow();
    expect(ids(await port.since('c', 0))).toEqual(['one']);
    expect((await port.heads())[0]?.entries).toBe(1);
    const head = () => {
      throw new Error('head');
    };
    await expect(port.append('c', 1, () => ({ records: [record('three')], head }))).rejects.toThrow('head');
    expect(ids(await port.since('c', 0))).toEqual(['one']);
  });

  test('swaps a text only where what was read still stands', async () => {
    const port = make();
    expect(await port.text('memory')).toBeNull();
    const both = await Promise.all([
      port.swapText('memory', null, 'one'),
      port.swapText('memory', null, 'two'),
    ]);
    expect(both.filter(Boolean)).toHaveLength(1);
    const now = await port.text('memory');
    expect(await port.swapText('memory', 'other', 'three')).toBe(false);
    expect(await port.text('memory')).toBe(now);
    expect(await port.swapText('memory', now, null)).toBe(true);
    expect(await port.text('memory')).toBeNull();
  });

  test('keeps photos with their entry, and purges a call whole and alone', async () => {
    const port = make();
    const bytes = new Uint8Array([1, 2, 3]).buffer;
    const photos = [{ blob: 'p', type: 'image/jpeg', bytes }];
    for (const call of ['c', 'd'])
      await port.append(call, 0, () => ({
        records: [record('x')],
        photos,
        head: (all) => headOf(call, all),
      }));
    expect(new Uint8Array((await port.photo('c', 'p'))!.bytes)).toEqual(new Uint8Array([1, 2, 3]));
    await port.purge('c');
    expect([await port.since('c', 0), await port.photo('c', 'p')]).toEqual([[], null]);
    expect(ids(await port.since('d', 0))).toEqual(['x']);
    expect(await port.photo('d', 'p')).not.toBeNull();
    expect((await port.heads()).map((h) => h.id)).toEqual(['d']);
  });

  test('gives up its ballast once', async () => {
    const port = make();
    expect(await port.giveUpBallast()).toBe(false);
    await port.keepBallast(1000);
    await port.keepBallast(1000);
    expect(await port.giveUpBallast()).toBe(true);
    expect(await port.giveUpBallast()).toBe(false);
  });
});

test('an older app reports a newer database as blocked and leaves it as it is', async () => {
  const name = crypto.randomUUID();
  const newer = await openDB(name, schemaVersion + 1, {
    upgrade: (db) => void db.createObjectStore('of the future').put('kept', 'key'),
  });
  newer.close();
  const error: unknown = await new IdbPort(name).heads().catch((e: unknown) => e);
  expect(troubleOf(error)).toBe('blocked');
  const again = await openDB(name, schemaVersion + 1);
  expect(await again.get('of the future', 'key')).toBe('kept');
  again.close();
});

test('gives way to a newer app in another tab, then reports blocked', async () => {
  const name = crypto.randomUUID();
  const port = new IdbPort(name);
  await add(port, 'c', 0, 'one');
  const newer = await openDB(name, schemaVersion + 1);
  const error: unknown = await add(port, 'c', 1, 'two').catch((e: unknown) => e);
  expect(troubleOf(error)).toBe('blocked');
  expect(await newer.count('entries')).toBe(1);
  newer.close();
});

test('comes back after the connection was lost', async () => {
  const port = new IdbPort(crypto.randomUUID());
  await add(port, 'c', 0, 'one');
  (await (port as unknown as { db(): Promise<IDBDatabase> }).db()).close();
  await add(port, 'c', 1, 'two');
  expect(ids(await port.since('c', 0))).toEqual(['one', 'two']);
});

test('names of errors lead to kinds of trouble', () => {
  expect(troubleOf(new DOMException('', 'QuotaExceededError'))).toBe('quota');
  expect(troubleOf(new DOMException('', 'SecurityError'))).toBe('blocked');
  expect(troubleOf(new DOMException('', 'UnknownError'))).toBe('broken');
  expect(troubleOf(undefined)).toBe('broken');
});
