// Files in and out: what is refused and how that is said, what is merged, what is kept apart.
import 'fake-indexeddb/auto';
import { expect, test } from 'vitest';
import { ImportRefused, largestImport, readCallFile, type Refusal } from './call_file';
import { emptyDisk, FaultyPort } from './faulty_port';
import { makeStore } from './test_surroundings';

const fresh = () => makeStore({ port: new FaultyPort(emptyDisk()) });
const blob = (value: unknown) => new Blob([typeof value === 'string' ? value : JSON.stringify(value)]);
const call = (...entries: unknown[]) => ({ call: 'Bakery', entries });
async function refusal(file: Blob): Promise<Refusal> {
  const error: unknown = await readCallFile(file).then(
    () => null,
    (e: unknown) => e,
  );
  expect(error).toBeInstanceOf(ImportRefused);
  return (error as ImportRefused).refusal;
}
const deep = `{"call":"x","entries":[{"kind":"step","x":${'['.repeat(40)}${']'.repeat(40)}}]}`;

test.each<[unknown, string, string, string]>([
  ['not json', 'file', 'not json', 'json'],
  ['', 'file', '', 'json'],
  [[1], 'file', '[1]', 'object'],
  ['{"call":"a","call":"b","entries":[]}', 'file', 'call', 'each_key_once'],
  [deep, 'file', '33', 'depth_32'],
  [{ ...call(), owner: 'x' }, 'file', 'owner', 'file_keys'],
  [{ ...call(), format: 2 }, 'format', '2', 'format_1'],
  [{ call: 'é'.repeat(101), entries: [] }, 'call', 'é'.repeat(80), 'name_200'],
  [{ ...call(), units: 'furlongs' }, 'units', 'furlongs', 'units'],
  [{ call: 'x' }, 'entries', '', 'entries'],
  [
    call(...Array.from({ length: 5001 }, (_, i) => ({ kind: 'later', i }))),
    'entries',
    '5001',
    'entries_5000',
  ],
  [call('x'), 'entries[0]', 'x', 'object'],
  [call({ kind: 'note', text: 'ok' }, { text: 'x' }), 'entries[1].kind', '', 'kind'],
  [call({ kind: 'raeding' }), 'entries[0].kind', 'raeding', 'kind'],
  [call({ kind: 'note', text: '' }), 'entries[0].text', '', 'text_4000'],
  [call({ kind: 'note', txt: 'x' }), 'entries[0].txt', 'txt', 'entry_keys'],
  [call({ kind: 'site', ambient: 81 }), 'entries[0].ambient', '81', 'text_200'],
  [call({ kind: 'note', text: 'x', at: 'yesterday' }), 'entries[0].at', 'yesterday', 'instant'],
  [call({ kind: 'note', text: 'x', id: 'a\nb' }), 'entries[0].id', 'a\nb', 'text_80'],
  [call({ kind: 'note', text: 'x', id: 'a', replaces: 'a' }), 'entries[0].replaces', 'a', 'other_id'],
  [call({ kind: 'photo' }), 'entries[0].blob', '', 'photo'],
  [
    call({ kind: 'photo_bytes', blob: 'p', type: 'text/html', base64: '' }),
    'entries[0].type',
    'text/html',
    'photo',
  ],
  [
    call({ kind: 'photo_bytes', blob: 'p', type: 'image/jpeg', base64: '*' }),
    'entries[0].base64',
    '*',
    'base64',
  ],
])('refuses %j', async (file, field, given, allowed) => {
  expect(await refusal(blob(file))).toMatchObject({ field, given, allowed });
});

test('refuses what is too large or not UTF-8 before reading it', async () => {
  const large = { size: largestImport + 1, arrayBuffer: () => Promise.reject(new Error('read')) };
  expect(await refusal(large as unknown as Blob)).toMatchObject({ field: 'file', allowed: 'size' });
  expect((await refusal(new Blob([new Uint8Array([0x7b, 0xff])]))).allowed).toBe('utf8');
});

test('a refused file changes nothing', async () => {
  const store = await fresh();
  await expect(store.importFile(blob(call({ kind: 'note', text: 'x' }, {})))).rejects.toThrow();
  expect([store.calls.value, (store.port as FaultyPort).disk.entries]).toEqual([[], []]);
});

test('keys and brackets inside texts are texts', async () => {
  const text = '{"a":1,"a":2} [ \\" } ]';
  const read = await readCallFile(
    blob(call({ kind: 'note', text, id: 'n' }, { kind: 'x', a: [{ b: 1 }, { b: 1 }] })),
  );
  expect(read.entries[0]).toMatchObject({ text, id: 'n' });
});

test('takes a file written by hand, twice, as one; undo leaves it alone', async () => {
  const store = await fresh();
  const file = blob(call({ kind: 'note', text: 'a' }, { kind: 'site', box: '52 F' }));
  const one = await store.importFile(file);
  const two = await store.importFile(file);
  expect([two.id, two.log.value.length, store.calls.value.length]).toEqual([one.id, 2, 1]);
  expect([one.name.value, one.canUndo.value]).toEqual(['Bakery', false]);
  const other = await store.importFile(blob({ ...call({ kind: 'note', text: 'b' }), call: 'Clinic' }));
  expect(other.id).not.toBe(one.id);
});

test('an entry without a time counts from when it came, and leaves as it came', async () => {
  const store = await fresh();
  const given = [
    { kind: 'reading', id: 'r', what: 'suction_pressure', value: '1 psig' },
    { kind: 'reading', id: 's', what: 'suction_pressure', value: '2 psig' },
  ];
  const one = await store.importFile(blob(call(...given)));
  const [r, s] = one.file().entries as { at: string }[];
  expect(r!.at).toBe(s!.at); // still a contradiction for the core, which says so
  expect(one.log.value[0]!.at).toBe(r!.at);
  const file = JSON.parse(await (await one.exportFile()).text()) as { entries: object[] };
  expect(file.entries.slice(1)).toEqual(given);
});

test('one id with two contents: the first stays, the other is kept beside it and travels along', async () => {
  const store = await fresh();
  const one = await store.importFile(
    blob(call({ kind: 'note', id: 'a', text: 'first' }, { kind: 'note', id: 'b', text: 'b' })),
  );
  const other = { kind: 'note', id: 'a', text: 'second' };
  for (let i = 0; i < 2; ++i) await store.importFile(blob(call(other, { kind: 'note', id: 'b', text: 'b' })));
  expect(one.standing.value.map((e) => e.text)).toEqual(['first', 'b']);
  expect(one.apart.value).toMatchObject([{ kind: 'kept_apart', of: 'a', entry: other }]);
  const there = await (await fresh()).importFile(await one.exportFile());
  expect(there.apart.value).toMatchObject([{ of: 'a', entry: other }]);
});

test('a file of a call that was taken off the list brings it back', async () => {
  const store = await fresh();
  const one = await store.create('x');
  await one.add({ kind: 'note', text: 'a' });
  const file = await one.exportFile();
  await store.remove(one.id);
  expect(store.calls.value).toEqual([]);
  const back = await store.importFile(file);
  expect([back.id, store.calls.value.length]).toEqual([one.id, 1]);
  expect(await (await back.exportFile()).text()).toBe(await file.text());
});

test('names longer than the core takes are cut in the file only', async () => {
  const one = await (await fresh()).create('é'.repeat(150));
  const file = JSON.parse(await (await one.exportFile()).text()) as { call: string };
  expect([file.call, one.name.value.length]).toEqual(['é'.repeat(100), 150]);
});

test('what is written down of a repair travels in the file and is asked of the core', async () => {
  const store = await fresh();
  const one = await store.create('x');
  const at = '2025-11-20T10:00:00.000+00:00';
  const entries = [
    { kind: 'step', step: 'rise', state: 'skipped', reason: 'no gauge' },
    { kind: 'order', steps: ['rise', 'tightness'] },
    { kind: 'procedure', procedure: 'rise', run: 2, with: { volume: '1 L' } },
    { kind: 'test_reading', procedure: 'rise', run: 2, at, pressure: '500 micron' },
    { kind: 'refrigerant_moved', movement: 'charged', before: '3 kg', after: '2.9 kg', cylinder: 'C2' },
    { kind: 'part', part: 'drier', action: 'replaced', detail: 'x'.repeat(300) },
    { kind: 'work', text: 'x'.repeat(3000) },
    { kind: 'cause_found', cause: 'low_charge', how: 'bubbles' },
    { kind: 'product_temperature', value: '45 F', product: 'milk' },
    { kind: 'signature', role: 'customer', name: 'Ebba', path: 'M1 1 L2 2', width: 600, height: 260 },
    { kind: 'watch', text: 'the door' },
  ];
  for (const entry of entries) await one.add(entry);
  const there = await (await fresh()).importFile(await one.exportFile());
  const contents = entries.map(({ at: _, ...content }: { at?: string }) => content);
  expect(there.standing.value).toMatchObject(contents);
  expect(one.file().entries).toMatchObject(contents);
  const read = there.standing.value.find((e) => e.kind === 'test_reading')!;
  expect(Date.parse(read.at)).toBe(Date.parse(at));
  const slip = { kind: 'part', part: 'drier', acton: 'fitted' };
  expect((await refusal(blob(call(slip)))).allowed).toBe('entry_keys');
});
