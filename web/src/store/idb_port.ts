// The log in IndexedDB. The connection is opened when first needed and again after it was lost, so that a
// database another tab held back or upgraded is found again without a reload.
import { openDB, type DBSchema, type IDBPDatabase } from 'idb';
import type { Head, LogRecord, PhotoBytes } from './entry';
import { BlockedError, type Port } from './port';

/** Raise with a step in `upgrade`; a step never deletes what it has not copied. */
export const schemaVersion = 1;
const patienceMs = 3000; // for another tab that still holds an older version open

interface Schema extends DBSchema {
  entries: { key: [string, number]; value: LogRecord; indexes: { by_id: [string, string] } };
  calls: { key: string; value: Head };
  photos: { key: [string, string]; value: PhotoBytes & { call: string } };
  meta: { key: string; value: unknown };
}
type Database = IDBPDatabase<Schema>;

function upgrade(db: Database, from: number): void {
  if (from < 1) {
    const entries = db.createObjectStore('entries', { keyPath: ['call', 'seq'] });
    entries.createIndex('by_id', ['call', 'entry.id'], { unique: true });
    db.createObjectStore('calls', { keyPath: 'id' });
    db.createObjectStore('photos', { keyPath: ['call', 'blob'] });
    db.createObjectStore('meta');
  }
}

const after = (call: string, seq: number) => IDBKeyRange.bound([call, seq], [call, Infinity], true);
const all = (call: string) => IDBKeyRange.bound([call], [call, []]);

export class IdbPort implements Port {
  private connection: Promise<Database> | null = null;
  private closed = false;
  constructor(private readonly name: string) {}

  private db(): Promise<Database> {
    if (this.closed) return Promise.reject(new BlockedError());
    this.connection ??= this.connect().catch((error: unknown) => {
      this.connection = null;
      throw error;
    });
    return this.connection;
  }

  private async connect(): Promise<Database> {
    if (typeof indexedDB === 'undefined') throw new BlockedError();
    const opening = openDB<Schema>(this.name, schemaVersion, {
      upgrade: (db, from) => upgrade(db, from),
      // A newer app in another tab waits for us: give way, and report blocked at the next use.
      blocking: (_current, _blocked, event) => {
        (event.target as IDBDatabase).close();
        this.connection = null;
      },
      terminated: () => {
        this.connection = null;
      },
    });
    let timer: ReturnType<typeof setTimeout> | undefined;
    const late = new Promise<never>((_, reject) => {
      timer = setTimeout(() => reject(new BlockedError()), patienceMs);
    });
    try {
      return await Promise.race([opening, late]);
    } catch (error) {
      // If it opens after all, leave no connection behind that would block others.
      opening.then(
        (db) => db.close(),
        () => {},
      );
      throw error;
    } finally {
      clearTimeout(timer);
    }
  }

  /** A connection that died under us throws InvalidStateError once; the next use opens a new one. */
  private async use<T>(work: (db: Database) => Promise<T>): Promise<T> {
    try {
      return await work(await this.db());
    } catch (error) {
      if ((error as { name?: string }).name !== 'InvalidStateError') throw error;
      this.connection = null;
      return await work(await this.db());
    }
  }

  append: Port['append'] = (call, seen, decide) =>
    this.use(async (db) => {
      const tx = db.transaction(['entries', 'calls', 'photos'], 'readwrite', { durability: 'strict' });
      tx.done.catch(() => {}); // awaited below; an early throw must not leave it unhandled
      try {
        const entries = tx.objectStore('entries');
        const fresh = await entries.getAll(after(call, seen));
        const { records, photos, head } = decide(fresh);
        if (records.length === 0 && !photos?.length) return fresh;
        let seq = fresh.at(-1)?.seq ?? seen;
        const written = records.map((record) => ({ ...record, call, seq: ++seq }));
        const everything = [...fresh, ...written];
        const writes: Promise<unknown>[] = [];
        // Awaited together below; when a later one throws at once, the abort must not leave these unhandled.
        const write = (made: Promise<unknown>) => {
          made.catch(() => {});
          writes.push(made);
        };
        for (const record of written) write(entries.add(record));
        for (const photo of photos ?? []) write(tx.objectStore('photos').put({ ...photo, call }));
        write(tx.objectStore('calls').put(head(everything)));
        await Promise.all(writes);
        await tx.done;
        return everything;
      } catch (error) {
        try {
          tx.abort();
        } catch {
          // it is over already
        }
        throw tx.error ?? error;
      }
    });

  since: Port['since'] = (call, seq) => this.use((db) => db.getAll('entries', after(call, seq)));
  heads: Port['heads'] = () => this.use((db) => db.getAll('calls'));

  photo: Port['photo'] = (call, blob) =>
    this.use(async (db) => (await db.get('photos', [call, blob])) ?? null);

  purge: Port['purge'] = (call) =>
    this.use(async (db) => {
      const tx = db.transaction(['entries', 'calls', 'photos'], 'readwrite', { durability: 'strict' });
      void tx.objectStore('entries').delete(all(call));
      void tx.objectStore('photos').delete(all(call));
      void tx.objectStore('calls').delete(call);
      await tx.done;
    });

  text: Port['text'] = (name) =>
    this.use(async (db) => {
      const found: unknown = await db.get('meta', `text.${name}`);
      return typeof found === 'string' ? found : null;
    });

  swapText: Port['swapText'] = (name, before, next) =>
    this.use(async (db) => {
      const tx = db.transaction('meta', 'readwrite', { durability: 'strict' });
      const key = `text.${name}`;
      const found: unknown = await tx.store.get(key);
      const stands = (typeof found === 'string' ? found : null) === before;
      if (stands) await (next === null ? tx.store.delete(key) : tx.store.put(next, key));
      await tx.done;
      return stands;
    });

  keepBallast: Port['keepBallast'] = (bytes) =>
    this.use(async (db) => {
      if ((await db.count('meta', 'ballast')) > 0) return;
      const ballast = new Uint8Array(bytes); // random, because a database that compresses would keep nothing
      for (let at = 0; at < bytes; at += 65536)
        crypto.getRandomValues(ballast.subarray(at, Math.min(at + 65536, bytes)));
      await db.put('meta', ballast, 'ballast');
    });

  giveUpBallast: Port['giveUpBallast'] = () =>
    this.use(async (db) => {
      if ((await db.count('meta', 'ballast')) === 0) return false;
      await db.delete('meta', 'ballast');
      return true;
    });

  close(): void {
    this.closed = true;
    void this.connection?.then(
      (db) => db.close(),
      () => {},
    );
  }
}
