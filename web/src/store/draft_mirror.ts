// A second copy of the drafts, in a small database of their own. A browser carries localStorage to the disk
// some seconds later and, killed as a whole before that, forgets it; a transaction's data is out of its hands
// within milliseconds.
import { openDB, type IDBPDatabase } from 'idb';

/** After the last stroke, until it is carried to the disk itself, which may take long. */
const pause = 1000; // ms

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
  const waiting = new Map<string, Kept>();
  let writing: Promise<void> | null = null;
  let settling: ReturnType<typeof setTimeout> | undefined;
  const store = async (batch: [string, Kept][], durability: 'relaxed' | 'strict') => {
    const tx = db.transaction('drafts', 'readwrite', { durability });
    const puts = batch.map(([key, kept]) => tx.store.put(kept, key));
    await Promise.all([...puts, tx.done]).catch(() => {});
  };
  const write = async () => {
    while (waiting.size > 0) {
      const batch = [...waiting];
      waiting.clear();
      await store(batch, 'relaxed'); // with the system at once: outlives the browser
      clearTimeout(settling);
      settling = setTimeout(() => void store(batch, 'strict'), pause); // on the disk: outlives the battery
    }
  };
  return {
    async all() {
      const [keys, values] = await Promise.all([db.getAllKeys('drafts'), db.getAll('drafts')]);
      return new Map(keys.map((key, i) => [String(key), values[i] as Kept]));
    },
    // Strokes that come while one is being written wait together, and only the last of each key is written.
    // Empty texts stay as such: that a draft was finished is news too. Full or refused: localStorage has it.
    put(key, kept) {
      waiting.set(key, kept);
      writing ??= write().finally(() => (writing = null));
    },
  };
}
