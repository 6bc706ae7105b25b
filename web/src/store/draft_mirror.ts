// A second copy of the drafts, in a small database of their own. A browser carries localStorage to the disk
// some seconds later and, killed as a whole before that, forgets it; a transaction's data is out of its hands
// within milliseconds.
import { openDB, type IDBPDatabase } from 'idb';

export interface Kept {
  text: string;
  at: number; // ms, this device's clock: tells the newer of two copies
}

export interface DraftMirror {
  all(): Promise<ReadonlyMap<string, Kept>>;
  put(key: string, kept: Kept): void;
}

export async function openDraftMirror(name: string): Promise<DraftMirror> {
  const db: IDBPDatabase = await openDB(`${name}.drafts`, 1, {
    upgrade: (made) => void made.createObjectStore('drafts'),
  });
  return {
    async all() {
      const [keys, values] = await Promise.all([db.getAllKeys('drafts'), db.getAll('drafts')]);
      return new Map(keys.map((key, i) => [String(key), values[i] as Kept]));
    },
    put(key, kept) {
      // Empty texts stay as such: that a draft was finished is news too. Full or refused: localStorage has it.
      const tx = db.transaction('drafts', 'readwrite', { durability: 'strict' });
      tx.done.catch(() => {});
      tx.store.put(kept, key).catch(() => {});
    },
  };
}
