// Drafts outlive a browser that forgot its localStorage, and the newer of two copies counts.
import 'fake-indexeddb/auto';
import { expect, test } from 'vitest';
import { openDraftMirror, type DraftMirror, type Kept } from './draft_mirror';
import { Drafts } from './drafts';

function small(): Storage {
  const held = new Map<string, string>();
  return {
    getItem: (k: string) => held.get(k) ?? null,
    setItem: (k: string, v: string) => void held.set(k, v),
    removeItem: (k: string) => void held.delete(k),
    clear: () => held.clear(),
    key: (i: number) => [...held.keys()][i] ?? null,
    get length() {
      return held.size;
    },
  };
}
const fixed = (rows: Record<string, Kept>): DraftMirror => ({
  all: async () => new Map(Object.entries(rows)),
  put: () => {},
});

test('what localStorage forgot comes back from the database', async () => {
  const first = new Drafts(() => small());
  await first.mirrorIn(await openDraftMirror('one'));
  first.draft('name').value = 'half ty';
  await new Promise((done) => setTimeout(done, 20));
  const later = new Drafts(() => small()); // an empty localStorage
  await later.mirrorIn(await openDraftMirror('one'));
  expect(later.draft('name').value).toBe('half ty');
});

test('the newer copy counts, also when it is a finished draft', async () => {
  const storage = small();
  const drafts = new Drafts(() => storage);
  drafts.draft('a').value = 'typed here';
  const older = new Drafts(() => storage);
  await older.mirrorIn(fixed({ a: { text: 'typed before', at: 1 } }));
  expect(older.draft('a').value).toBe('typed here');
  const newer = new Drafts(() => storage);
  await newer.mirrorIn(fixed({ a: { text: '', at: Date.now() + 1000 } }));
  expect(newer.draft('a').value).toBe('');
});
