// Puts the pieces together: logs in view, the journal that makes batches durable, the other tabs.
import { computed, signal, type ReadonlySignal, type Signal } from '@preact/signals';
import { readCallFile, withId, type ReadCall } from './call_file';
import { CallLog, missing } from './call_log';
import { formatInstant, type Clock } from './clock';
import type { DraftMirror } from './draft_mirror';
import { Drafts } from './drafts';
import type { Batch, Head, LogRecord, NewRecord, RawEntry } from './entry';
import { Journal } from './journal';
import { openCall } from './open_call';
import { StoreError, troubleOf, type Port } from './port';
import { headOf } from './standing';
import type { CallSummary, OpenCall, Store } from './store';
import { joinTabs, type Tabs } from './tabs';
import { WriteAhead, type SmallStorage } from './write_ahead';

export interface Surroundings {
  name: string; // of the database and the channel between tabs
  port: Port;
  storage: () => SmallStorage | null;
  clock: Clock;
  /** Where drafts are kept a second time; none in tests that don't ask for it. */
  draftMirror?: () => Promise<DraftMirror>;
}
/** The name of what was learned, in the port and between tabs: no call has it, for those are UUIDs. */
const memoryName = 'memory';
/** Room kept for text when the device is full: our estimate, some thousands of entries. */
const ballastBytes = 2 * 1024 * 1024;

export class LocalStore implements Store {
  private readonly logs = new Map<string, CallLog>();
  private readonly heads = signal<ReadonlyMap<string, Head>>(new Map());
  private readonly inUse = signal<ReadonlySet<string>>(new Set());
  private readonly ahead: WriteAhead;
  private readonly drafts: Drafts;
  private readonly tabs: Tabs;
  private readonly stop = new AbortController();
  readonly journal: Journal;
  /** Photos wait in a line of their own: one that doesn't fit must not hold up text. */
  readonly photoJournal: Journal;
  readonly port: Port;
  readonly clock: Clock;
  readonly calls: ReadonlySignal<readonly CallSummary[]>;
  private readonly learned = signal<string | null>(null);
  readonly memory: ReadonlySignal<string | null> = this.learned;

  constructor(private readonly around: Surroundings) {
    this.port = around.port;
    this.clock = around.clock;
    this.ahead = new WriteAhead(around.storage);
    this.drafts = new Drafts(around.storage);
    const commit = (batch: Batch) => this.commit(batch);
    this.journal = new Journal(this.ahead, commit, () => this.port.giveUpBallast());
    this.photoJournal = new Journal(this.ahead, commit, async () => false);
    this.tabs = joinTabs(around.name, (name) => {
      void (name === memoryName ? this.remember() : this.reread(name)).catch(() => {});
    });
    this.calls = computed(() => this.list());
  }

  /** Never fails: a store that can't be read is reported as trouble by the calls opened in it. */
  async start(): Promise<void> {
    const mirroring = this.around.draftMirror?.().then((mirror) => this.drafts.mirrorIn(mirror));
    await mirroring?.catch(() => {}); // localStorage alone then keeps them
    await this.readHeads().catch(() => {});
    await this.remember().catch(() => {});
    await this.journal.recover();
    void this.port.keepBallast(ballastBytes).catch(() => {});
    const back = () => {
      if (document.visibilityState === 'visible') void this.comeBack();
    };
    const options = { signal: this.stop.signal };
    if (typeof window === 'undefined') return;
    window.addEventListener('focus', back, options);
    window.addEventListener('pageshow', back, options);
    document.addEventListener('visibilitychange', back, options);
  }
  close(): void {
    this.stop.abort();
    this.journal.close();
    this.photoJournal.close();
    this.tabs.close();
    this.port.close();
  }

  /** What another tab did while this one slept, and what could not be written before. */
  private async comeBack(): Promise<void> {
    await Promise.all([this.journal.again(), this.photoJournal.again()]);
    await Promise.all([...this.logs.keys()].map((call) => this.reread(call))).catch(() => {});
    await this.readHeads().catch(() => {});
    await this.remember().catch(() => {});
  }
  private async remember(): Promise<void> {
    this.learned.value = await this.port.text(memoryName);
  }
  async changeMemory(change: (now: string | null) => Promise<string | null>): Promise<void> {
    for (;;) {
      const now = await this.port.text(memoryName).catch(failed);
      const next = await change(now);
      if (!(await this.port.swapText(memoryName, now, next).catch(failed))) continue;
      this.learned.value = next;
      this.tabs.tell(memoryName);
      return;
    }
  }
  private async readHeads(): Promise<void> {
    this.heads.value = new Map((await this.port.heads()).map((head) => [head.id, head]));
  }
  private async reread(call: string): Promise<void> {
    const log = this.logs.get(call);
    if (log) log.take(await this.port.since(call, log.lastSeq));
    await this.readHeads();
  }

  pending(call: string): Batch[] {
    return [...this.journal.pending(call), ...this.photoJournal.pending(call)];
  }

  /** One batch, one transaction. Also called for batches that are there already. */
  async commit(batch: Batch): Promise<void> {
    const log = this.logs.get(batch.call);
    const known = log?.stored.peek() ?? [];
    let head: Head | undefined;
    const grown = await this.port.append(batch.call, known.at(-1)?.seq ?? 0, (fresh) => ({
      records: missing([...known, ...fresh], batch.records),
      ...(batch.photos ? { photos: batch.photos } : {}),
      head: (more) => (head = headOf(batch.call, [...known, ...more])),
    }));
    log?.take(grown);
    if (!head) return;
    this.heads.value = new Map(this.heads.peek()).set(batch.call, head);
    this.tabs.tell(batch.call);
  }

  private list(): CallSummary[] {
    const heads = new Map(this.heads.value);
    const waiting = new Set([...this.journal.pending(), ...this.photoJournal.pending()].map((b) => b.call));
    for (const call of waiting) {
      const log = this.logs.get(call);
      if (log) heads.set(call, headOf(call, log.all.value));
      else if (!heads.has(call)) heads.set(call, headOf(call, this.inOrder(call)));
    }
    return [...heads.values()]
      .filter((head) => !head.removed)
      .sort((a, b) => Date.parse(b.changed) - Date.parse(a.changed) || (a.id < b.id ? -1 : 1))
      .map(({ id, name, changed, entries, demo }) => ({
        ...{ id, name, changed, entries, demo },
        open: this.inUse.value.has(id),
      }));
  }
  private inOrder(call: string): LogRecord[] {
    const records = missing(
      [],
      this.pending(call).flatMap((batch) => batch.records),
    );
    return records.map((record, i) => ({ ...record, call, seq: i + 1 }));
  }

  batch(call: string, records: NewRecord[]): Batch {
    return { key: this.ahead.newKey(), call, records };
  }
  noted(): string {
    return new Date(this.clock.now()).toISOString();
  }

  /** The log in view; read from the port when this page doesn't hold it yet. */
  private async hold(id: string): Promise<CallLog> {
    let log = this.logs.get(id);
    if (!log) {
      log = new CallLog(id, (call) => this.pending(call));
      this.logs.set(id, log);
    }
    ++log.users;
    this.inUse.value = new Set(this.inUse.peek()).add(id);
    // A port that can't be read leaves the log with what is pending; the trouble says so.
    await this.reread(id).catch(() => {});
    return log;
  }
  private release(log: CallLog): void {
    if (--log.users > 0) return;
    this.logs.delete(log.id);
    const inUse = new Set(this.inUse.peek());
    inUse.delete(log.id);
    this.inUse.value = inUse;
  }
  private wrap(log: CallLog): OpenCall {
    return openCall(this, log, () => this.release(log));
  }

  async create(name: string, entries: object[] = [], demo = false): Promise<OpenCall> {
    const id = crypto.randomUUID();
    const first = this.heads.peek().size === 0;
    await this.journal.submit(this.batch(id, this.beginning(id, name, entries, demo)));
    if (first) void askToPersist();
    return this.wrap(await this.hold(id));
  }

  /** A call's first entries: its name, and what it was given. Not the person's taps, so never undone. */
  private beginning(id: string, name: string, entries: object[], demo: boolean): NewRecord[] {
    const now = this.clock.now();
    const at = formatInstant(now, this.clock.offset(now));
    const heading = { id: `name-${id}`, kind: 'call_name', at, name, call: id, ...(demo ? { demo } : {}) };
    const given = entries.map((entry) => withId({ at, ...plain(entry) } as RawEntry));
    return [heading, ...given].map((entry) => ({ entry, own: false, noted: this.noted() }));
  }

  async open(id: string): Promise<OpenCall | null> {
    const log = await this.hold(id);
    if (log.all.peek().length > 0 && !headOf(id, log.all.peek()).removed) return this.wrap(log);
    this.release(log);
    return null;
  }

  async importFile(file: Blob): Promise<OpenCall> {
    const read = await readCallFile(file);
    const id = read.call ?? (await this.knownAs(read)) ?? crypto.randomUUID();
    const noted = this.noted();
    const records = read.entries.map((entry) => ({ entry, own: false, noted }));
    if (read.call === null) records.unshift(this.importedName(id, read, noted));
    const first = this.heads.peek().size === 0;
    const log = await this.hold(id);
    await this.journal.submit(this.batch(id, [...records, ...this.unremoved(log, noted)]));
    for (const photo of read.photos)
      await this.photoJournal.submit({ ...this.batch(id, []), photos: [photo] });
    if (first) void askToPersist();
    return this.wrap(log);
  }
  private importedName(id: string, read: ReadCall, noted: string): NewRecord {
    const { name, units } = read;
    // Without a time, so that any name given later counts before it.
    return {
      entry: { id: `name-${id}`, kind: 'call_name', name, call: id, ...(units ? { units } : {}) },
      own: false,
      noted,
    };
  }
  /** A file from elsewhere says no call id: it is a known call when name and an entry agree. */
  private async knownAs(read: ReadCall): Promise<string | null> {
    const ids = new Set(read.entries.map((entry) => entry.id));
    for (const head of this.heads.peek().values()) {
      if (head.name !== read.name) continue;
      const records = await this.port.since(head.id, 0).catch(() => []);
      if (records.some((record) => ids.has(record.entry.id))) return head.id;
    }
    return null;
  }

  private unremoved(log: CallLog, noted: string): NewRecord[] {
    return log.all
      .peek()
      .filter(({ entry }) => entry.kind === 'call_removed' && entry.removed === true)
      .map(({ entry }) => ({
        entry: { id: `restored-${entry.id}`, kind: 'call_removed', replaces: entry.id, removed: false },
        own: false,
        noted,
      }));
  }

  async remove(id: string): Promise<() => Promise<void>> {
    const entry = { id: `removed-${crypto.randomUUID()}`, kind: 'call_removed', removed: true };
    await this.journal.submit(this.batch(id, [{ entry, own: false, noted: this.noted() }]));
    return async () => {
      const log = await this.hold(id);
      await this.journal.submit(this.batch(id, this.unremoved(log, this.noted())));
      this.release(log);
    };
  }
  async purge(id: string): Promise<void> {
    if (!this.heads.peek().get(id)?.removed) throw new StoreError('gone');
    await this.port.purge(id);
    await this.readHeads();
    this.tabs.tell(id);
  }

  draft(key: string): Signal<string> {
    return this.drafts.draft(key);
  }
  async persisted(): Promise<boolean> {
    return (await navigator.storage?.persisted?.()) ?? false;
  }
  async usage(): Promise<{ used: number; quota: number }> {
    const { usage = 0, quota = 0 } = (await navigator.storage?.estimate?.()) ?? {};
    return { used: usage, quota };
  }
}

function failed(error: unknown): never {
  throw new StoreError(troubleOf(error));
}

/** As JSON would carry it: what can't be written to a file must not be in the log either. */
export function plain(value: object): Record<string, unknown> {
  return JSON.parse(JSON.stringify(value)) as Record<string, unknown>;
}

async function askToPersist(): Promise<void> {
  await navigator.storage?.persist?.().catch(() => false);
}
