// STUB until the store lands.
import type { ReadonlySignal, Signal } from '@preact/signals';
import { signal } from '@preact/signals';
export interface Entry {
  id: string;
  kind: string;
  at: string;
  replaces?: string;
  [key: string]: unknown;
}
export type NewEntry = { kind: string; replaces?: string; [key: string]: unknown };
export interface CallSummary {
  id: string;
  name: string;
  changed: string;
  entries: number;
  demo: boolean;
  open: boolean;
}
export type Trouble = { kind: 'quota' | 'blocked' | 'broken'; unsaved: number };
export interface OpenCall {
  readonly id: string;
  readonly name: ReadonlySignal<string>;
  readonly log: ReadonlySignal<readonly Entry[]>;
  readonly standing: ReadonlySignal<readonly Entry[]>;
  readonly trouble: ReadonlySignal<Trouble | null>;
  readonly canUndo: ReadonlySignal<boolean>;
  readonly canRedo: ReadonlySignal<boolean>;
  add(entry: NewEntry): Promise<Entry>;
  undo(): Promise<void>;
  redo(): Promise<void>;
  rename(name: string): Promise<void>;
  file(): { call: string; units?: string; entries: object[] };
  addPhoto(of: string | null, photo: Blob): Promise<Entry>;
  photo(entryId: string): Promise<Blob | null>;
  exportFile(): Promise<Blob>;
  close(): void;
}
export interface Store {
  readonly calls: ReadonlySignal<readonly CallSummary[]>;
  create(name: string, entries?: object[], demo?: boolean): Promise<OpenCall>;
  open(id: string): Promise<OpenCall | null>;
  importFile(file: Blob): Promise<OpenCall>;
  remove(id: string): Promise<() => Promise<void>>;
  draft(key: string): Signal<string>;
  persisted(): Promise<boolean>;
  usage(): Promise<{ used: number; quota: number }>;
}
export async function openStore(): Promise<Store> {
  const never = () => Promise.reject(new Error('stub'));
  return {
    calls: signal([]),
    create: never,
    open: async () => null,
    importFile: never,
    remove: never,
    draft: () => signal(''),
    persisted: async () => false,
    usage: async () => ({ used: 0, quota: 0 }),
  };
}
