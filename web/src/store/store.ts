// The store: every tap is an entry of an append-only log on this device. See docs/formats/app-log.md for what
// lies where, and docs/decisions/0011-local-log.md for why.
import { openDraftMirror } from './draft_mirror';
import type { ReadonlySignal, Signal } from '@preact/signals';
import { deviceClock } from './clock';
import type { Entry } from './entry';
import { IdbPort } from './idb_port';
import { LocalStore } from './local_store';
import type { TroubleKind } from './port';

export type { Entry } from './entry';
export { ImportRefused, type Allowed, type Refusal } from './call_file';
export { StoreError } from './port';

/** Known keys of `Entry` and any of its kind's own; Omit would lose them behind the index. */
export type NewEntry = { kind: string; replaces?: string; [key: string]: unknown };
export interface CallSummary {
  id: string;
  name: string;
  changed: string;
  entries: number;
  demo: boolean;
  open: boolean; // in this page
}
/** `unsaved` counts entries held in memory, and as far as it takes them in the small write-ahead area. */
export type Trouble = { kind: TroubleKind; unsaved: number };

export interface OpenCall {
  readonly id: string;
  readonly name: ReadonlySignal<string>;
  /** everything about the machine, in order; live across tabs */
  readonly log: ReadonlySignal<readonly Entry[]>;
  /** not replaced, not withdrawn; without the notes that only withdraw */
  readonly standing: ReadonlySignal<readonly Entry[]>;
  /** entries that came with the id of another and were kept beside it: kind kept_apart, `of`, `entry` */
  readonly apart: ReadonlySignal<readonly Entry[]>;
  readonly trouble: ReadonlySignal<Trouble | null>;
  readonly canUndo: ReadonlySignal<boolean>;
  readonly canRedo: ReadonlySignal<boolean>;
  /** An `at` of the entry's own counts unless it is still to come; else it is now. Shown at once; resolves when
      durable, or when it can't be yet: then `trouble` says so, and it is tried
      again until it is. Rejects with StoreError bad_replaces for a correction the core would refuse. */
  add(entry: NewEntry): Promise<Entry>;
  /** All of them or none, in this order; an id of one's own (a fresh UUID) lets them name each other. */
  addAll(entries: readonly NewEntry[]): Promise<Entry[]>;
  undo(): Promise<void>;
  redo(): Promise<void>;
  rename(name: string): Promise<void>;
  /** What the core is asked: kinds it knows, standing only. */
  file(): { call: string; units?: string; entries: object[] };
  /** Rejects with StoreError: quota (photos are refused before text is) or photo_unreadable. */
  addPhoto(of: string | null, photo: Blob): Promise<Entry>;
  photo(entryId: string): Promise<Blob | null>;
  /** One file: log and photos. Without photos it is one the command line reads (1 MB at most). */
  exportFile(options?: { photos?: boolean }): Promise<Blob>;
  close(): void;
}
export interface Store {
  readonly calls: ReadonlySignal<readonly CallSummary[]>;
  create(name: string, entries?: object[], demo?: boolean): Promise<OpenCall>;
  open(id: string): Promise<OpenCall | null>;
  /** Merges by entry id when the call is known. Rejects with ImportRefused. */
  importFile(file: Blob): Promise<OpenCall>;
  /** Takes the call off the list; returns the undo. */
  remove(id: string): Promise<() => Promise<void>>;
  /** Forgets a removed call for good. */
  purge(id: string): Promise<void>;
  draft(key: string): Signal<string>;
  /** What finished calls have taught, as the core wrote it; null before the first. Live across tabs. */
  readonly memory: ReadonlySignal<string | null>;
  /** Asked again with what stands then, where another tab changed it meanwhile. Rejects with StoreError. */
  changeMemory(change: (now: string | null) => Promise<string | null>): Promise<void>;
  persisted(): Promise<boolean>;
  usage(): Promise<{ used: number; quota: number }>;
}

export async function openStore(): Promise<Store> {
  const store = new LocalStore({
    name: 'coldwright',
    port: new IdbPort('coldwright'),
    storage: () => (typeof localStorage === 'undefined' ? null : localStorage),
    clock: deviceClock,
    draftMirror: () => openDraftMirror('coldwright'),
  });
  await store.start();
  return store;
}
