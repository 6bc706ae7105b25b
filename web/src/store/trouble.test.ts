// When the device can't store: nothing is thrown away, the trouble is told, and it is tried again.
import 'fake-indexeddb/auto';
import { afterEach, expect, test, vi } from 'vitest';
import { emptyDisk, FaultyPort } from './faulty_port';
import { IdbPort } from './idb_port';
import { StoreError } from './port';
import { fullError, makeStore, MemoryStorage } from './test_surroundings';

const note = (text: string) => ({ kind: 'note', text });
const texts = (entries: readonly object[]) => entries.map((e) => (e as { text?: string }).text);
const small = { bytes: new Uint8Array([9]).buffer, type: 'image/jpeg', width: 1, height: 1 };
vi.mock('./photos', () => ({ shrink: async () => small }));
afterEach(() => void vi.useRealTimers());

test('a full device first gives up its ballast, then holds entries and says how many', async () => {
  const port = new FaultyPort(emptyDisk());
  const storage = new MemoryStorage();
  const store = await makeStore({ port, storage });
  const call = await store.create('x');
  await Promise.resolve();
  expect(port.disk.ballast).toBeGreaterThan(0);
  port.fault = (step) => (step === 'write' && port.disk.ballast > 0 ? fullError() : null);
  await call.add(note('a'));
  expect([port.disk.ballast, call.trouble.value, texts(port.disk.entries.map((r) => r.entry))]).toEqual([
    0,
    null,
    [undefined, 'a'],
  ]);
  port.fault = (step) => (step === 'write' ? fullError() : null);
  await call.add(note('b'));
  await call.add(note('c'));
  await call.undo();
  expect(call.trouble.value).toEqual({ kind: 'quota', unsaved: 3 });
  expect(texts(call.standing.value)).toEqual(['a', 'b']);
  expect(storage.kept.size).toBe(3);

  // the page goes away while the device is still full, and again: nothing is lost, all is shown
  for (let i = 0; i < 2; ++i) {
    const later = new FaultyPort(port.disk);
    later.fault = port.fault;
    const found = (await (await makeStore({ port: later, storage })).open(call.id))!;
    expect(texts(found.standing.value)).toEqual(['a', 'b']);
    expect(found.trouble.value).toEqual({ kind: 'quota', unsaved: 3 });
  }
  const roomy = await makeStore({ port: new FaultyPort(port.disk), storage });
  expect(texts((await roomy.open(call.id))!.standing.value)).toEqual(['a', 'b']);
  expect(storage.kept.size).toBe(0);
});

test('tries again by itself and when the person comes back', async () => {
  vi.useFakeTimers();
  const port = new FaultyPort(emptyDisk());
  const store = await makeStore({ port });
  const call = await store.create('x');
  let full = true;
  port.fault = (step) => (step === 'write' && full ? fullError() : null);
  await call.add(note('a'));
  expect(call.trouble.value).toEqual({ kind: 'quota', unsaved: 1 });
  await vi.advanceTimersByTimeAsync(5000);
  expect(port.disk.entries).toHaveLength(1);
  full = false;
  await vi.advanceTimersByTimeAsync(30_000);
  expect([port.disk.entries.length, call.trouble.value]).toEqual([2, null]);
  full = true;
  await call.add(note('b'));
  full = false;
  window.dispatchEvent(new Event('focus'));
  await vi.advanceTimersByTimeAsync(1);
  expect([port.disk.entries.length, call.trouble.value]).toEqual([3, null]);
});

test('a photo is refused when full, and leaves no entry behind; text goes on', async () => {
  const port = new FaultyPort(emptyDisk());
  const call = await (await makeStore({ port })).create('x');
  const photos: boolean[] = [];
  const append = port.append;
  port.append = (id, after, decide) =>
    append(id, after, (fresh) => {
      const decided = decide(fresh);
      photos.push(!!decided.photos);
      if (decided.photos) throw fullError();
      return decided;
    });
  const refused: unknown = await call.addPhoto(null, new Blob(['photo'])).catch((e: unknown) => e);
  expect(refused).toBeInstanceOf(StoreError);
  expect(refused).toMatchObject({ kind: 'quota' });
  await call.add(note('a'));
  expect(photos).toEqual([true, false]);
  expect([call.trouble.value, call.log.value.length]).toEqual([null, 1]);
});

test('without any storage a call works in memory and can be taken as a file', async () => {
  const port = new FaultyPort(emptyDisk());
  port.fault = () => new DOMException('', 'SecurityError');
  const storage = new MemoryStorage();
  storage.full = true;
  const store = await makeStore({ port, storage });
  const call = await store.create('Kiosk');
  await call.add(note('a'));
  await call.add(note('b'));
  await call.undo();
  const photo = await call.addPhoto(null, new Blob(['photo']));
  expect(call.trouble.value).toEqual({ kind: 'blocked', unsaved: 5 });
  expect(texts(call.standing.value)).toEqual(['a', undefined]);
  expect(store.calls.value).toMatchObject([{ name: 'Kiosk', entries: 4 }]);
  expect((await call.photo(photo.id))!.size).toBe(1);
  const file = JSON.parse(await (await call.exportFile()).text()) as { call: string; entries: object[] };
  expect([file.call, file.entries.length]).toEqual(['Kiosk', 6]);
  const elsewhere = await makeStore({ port: new IdbPort(crypto.randomUUID()) });
  const there = await elsewhere.importFile(new Blob([JSON.stringify(file)]));
  expect(texts(there.standing.value)).toEqual(['a', undefined]);
  expect((await there.photo(photo.id))!.size).toBe(1);
  expect((await store.open(call.id))!.log.value).toHaveLength(4);
});

test('a database that breaks in between is reported as broken and comes back', async () => {
  const port = new FaultyPort(emptyDisk());
  const call = await (await makeStore({ port })).create('x');
  port.fault = (step) => (step === 'committed' ? new DOMException('', 'UnknownError') : null);
  await call.add(note('a'));
  expect(call.trouble.value).toEqual({ kind: 'broken', unsaved: 1 });
  port.fault = () => null;
  await call.add(note('b')); // tries what waits before it
  expect([texts(call.log.value), call.trouble.value]).toEqual([['a', 'b'], null]);
  expect(texts(port.disk.entries.map((r) => r.entry))).toEqual([undefined, 'a', 'b']);
});
