// A copy of every batch in localStorage, written synchronously before the transaction begins and cleared after
// it: what was tapped outlives a tab that is killed in between. One key a batch, so tabs don't share a value.
import type { Batch } from './entry';

export type SmallStorage = Pick<Storage, 'getItem' | 'setItem' | 'removeItem' | 'key' | 'length'>;

const prefix = 'coldwright.ahead.';

export class WriteAhead {
  private counter = 0;
  constructor(private readonly storage: () => SmallStorage | null) {}

  /** A key that sorts in the order of writing within this page; across pages the order doesn't matter. */
  newKey(): string {
    return `${String(++this.counter).padStart(8, '0')}-${crypto.randomUUID()}`;
  }

  /** False when it could not be kept; the batch then lives in memory alone until its transaction. */
  keep(batch: Batch): boolean {
    if (batch.photos?.length) return false; // an entry without its bytes would be half a photo
    try {
      const storage = this.storage();
      storage?.setItem(prefix + batch.key, JSON.stringify(batch));
      return storage !== null;
    } catch {
      return false;
    }
  }

  clear(key: string): void {
    try {
      this.storage()?.removeItem(prefix + key);
    } catch {
      // what stays is found again and recognised as written
    }
  }

  /** What a page before this one left behind, or another tab is writing just now: writing it again is harmless. */
  left(): Batch[] {
    const found: [string, Batch][] = [];
    try {
      const storage = this.storage();
      for (let i = 0; storage && i < storage.length; ++i) {
        const key = storage.key(i);
        if (!key?.startsWith(prefix)) continue;
        const batch = read(storage.getItem(key));
        if (batch) found.push([key, batch]);
      }
    } catch {
      // storage refused: nothing is left that we could read
    }
    return found.sort(([a], [b]) => (a < b ? -1 : 1)).map(([, batch]) => batch);
  }
}

function read(text: string | null): Batch | null {
  try {
    const batch = JSON.parse(text ?? '') as Batch;
    return typeof batch.call === 'string' && Array.isArray(batch.records) ? batch : null;
  } catch {
    return null; // left in place for a human to look at (docs/formats/app-log.md)
  }
}
