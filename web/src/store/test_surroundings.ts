// For tests: a clock that is set by hand, small storage that can be full, stores that close after the test.
import { afterEach } from 'vitest';
import type { Clock } from './clock';
import { LocalStore } from './local_store';
import type { Port } from './port';
import type { SmallStorage } from './write_ahead';

export class HandClock implements Clock {
  constructor(public time = Date.UTC(2026, 5, 1, 8)) {}
  now = () => this.time;
  offset = () => 120;
}

export class MemoryStorage implements SmallStorage {
  readonly kept = new Map<string, string>();
  full = false;
  get length(): number {
    return this.kept.size;
  }
  key = (i: number) => [...this.kept.keys()][i] ?? null;
  getItem = (key: string) => this.kept.get(key) ?? null;
  removeItem = (key: string) => void this.kept.delete(key);
  setItem = (key: string, value: string) => {
    if (this.full) throw new DOMException('', 'QuotaExceededError');
    this.kept.set(key, value);
  };
}

const opened: LocalStore[] = [];
afterEach(() => {
  for (const store of opened.splice(0)) store.close();
});

export interface Made {
  port: Port;
  storage?: MemoryStorage;
  clock?: Clock;
  name?: string;
}
export async function makeStore(made: Made): Promise<LocalStore> {
  const store = new LocalStore({
    name: made.name ?? `test-${crypto.randomUUID()}`,
    port: made.port,
    storage: () => made.storage ?? null,
    clock: made.clock ?? new HandClock(),
  });
  opened.push(store);
  await store.start();
  return store;
}

/** Long enough for every promise and a message between tabs to arrive. */
export const settle = (ms = 25) => new Promise((resolve) => setTimeout(resolve, ms));
export const fullError = () => new DOMException('', 'QuotaExceededError');
