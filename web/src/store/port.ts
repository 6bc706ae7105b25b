// What the log needs from a place to keep it. Two implementations, one suite: IndexedDB (idb_port.ts) and a
// fake that fails on demand (faulty_port.ts).
import type { Head, LogRecord, NewRecord, PhotoBytes } from './entry';

export interface Decided {
  records: NewRecord[];
  photos?: PhotoBytes[];
  /** the row of the list, from the log with `records` in place */
  head: (all: readonly LogRecord[]) => Head;
}
export interface Port {
  /** One durable transaction: reads what came after `after`, lets `decide` choose, writes. Sequence numbers are
      given inside it, so two tabs can't take the same. Returns what came after `after`, the new included. */
  append(
    call: string,
    after: number,
    decide: (fresh: readonly LogRecord[]) => Decided,
  ): Promise<readonly LogRecord[]>;
  since(call: string, after: number): Promise<LogRecord[]>;
  heads(): Promise<Head[]>;
  photo(call: string, blob: string): Promise<PhotoBytes | null>;
  /** Forgets a call for good. */
  purge(call: string): Promise<void>;
  /** A text that belongs to no call (what was learned), by name; null where there is none. */
  text(name: string): Promise<string | null>;
  /** Puts `next` in the place of `before` if that is still what stands, durably; false, and nothing done, where
      another tab was faster. */
  swapText(name: string, before: string | null, next: string | null): Promise<boolean>;
  /** Keeps some room that can be given up when the device is full. */
  keepBallast(bytes: number): Promise<void>;
  /** True when there was room to give up. */
  giveUpBallast(): Promise<boolean>;
  close(): void;
}

export type TroubleKind = 'quota' | 'blocked' | 'broken';

/** An older app, or one that may not store at all, is blocked; it must not destroy what a newer one wrote. */
export class BlockedError extends Error {
  override readonly name = 'BlockedError';
}
/** Something the store could not do: `kind` says what, words come from elsewhere. */
export class StoreError extends Error {
  constructor(readonly kind: TroubleKind | 'photo_unreadable' | 'gone' | 'bad_replaces') {
    super(kind);
  }
}

export function troubleOf(error: unknown): TroubleKind {
  const name = (error as { name?: unknown } | null)?.name;
  if (name === 'QuotaExceededError') return 'quota';
  if (name === 'BlockedError' || name === 'VersionError' || name === 'SecurityError') return 'blocked';
  return 'broken';
}
