// One call as this page sees it: what is stored and, behind it, what is on its way there.
import { computed, signal, type ReadonlySignal } from '@preact/signals';
import { drawnBack, parseInstant, type Clock } from './clock';
import { coreKinds, sameContent, type Batch, type Entry, type LogRecord, type NewRecord } from './entry';
import { bookkeeping, fnv, canonical } from './entry';
import { headingOf, shown, standingRecords, timesOf } from './standing';
import { turnsOf } from './undo';

/** The batch's records that the log doesn't have. One id with two contents: the other is kept apart, under an id
    made from what it says, and nothing is overwritten. */
export function missing(known: readonly LogRecord[], records: readonly NewRecord[]): NewRecord[] {
  const have = new Map<string, NewRecord>(known.map((r) => [r.entry.id, r]));
  const wanted: NewRecord[] = [];
  const want = (record: NewRecord) => {
    have.set(record.entry.id, record);
    wanted.push(record);
  };
  for (const record of records) {
    const there = have.get(record.entry.id);
    if (!there) {
      want(record);
      continue;
    }
    const { noted } = record;
    const kept = (entry: NewRecord['entry']) => {
      if (!have.has(entry.id)) want({ entry, own: false, noted });
    };
    if (!sameContent(there.entry, record.entry)) {
      const id = `apart-${fnv(canonical(record.entry))}`;
      kept({ id, kind: 'kept_apart', of: record.entry.id, entry: record.entry });
    } else if (record.entry.at !== undefined && there.entry.at !== record.entry.at) {
      const to = record.entry.at;
      const earlier = there.entry.at === undefined || parseInstant(to) < parseInstant(there.entry.at);
      if (earlier) kept(redated(record.entry.id, to));
    }
  }
  return wanted;
}

/** Its id is made from what it says, so that the same correction on two devices is one entry. */
export function redated(of: string, to: string): NewRecord['entry'] {
  return { id: `redated-${fnv(`${of} ${to}`)}`, kind: 'redated', of, to };
}

export class CallLog {
  users = 0;
  readonly stored = signal<readonly LogRecord[]>([]);
  readonly all: ReadonlySignal<readonly LogRecord[]>;
  readonly name: ReadonlySignal<string>;
  readonly log: ReadonlySignal<readonly Entry[]>;
  readonly standing: ReadonlySignal<readonly Entry[]>;
  readonly apart: ReadonlySignal<readonly Entry[]>;
  private readonly times: ReadonlySignal<ReturnType<typeof timesOf>>;
  readonly turns: ReadonlySignal<ReturnType<typeof turnsOf>>;

  constructor(
    readonly id: string,
    pending: (call: string) => Batch[],
  ) {
    this.all = computed(() => {
      const stored = this.stored.value;
      const records = [...stored];
      for (const batch of pending(id))
        for (const record of missing(records, batch.records))
          records.push({ ...record, call: id, seq: (records.at(-1)?.seq ?? 0) + 1 });
      return records;
    });
    this.times = computed(() => timesOf(this.all.value));
    this.turns = computed(() => turnsOf(this.all.value, this.times.value));
    this.name = computed(() => headingOf(this.all.value).name);
    const show = (records: readonly LogRecord[]) => records.map((r) => shown(r, this.times.value(r)));
    this.log = computed(() => show(this.all.value.filter((r) => !bookkeeping.has(r.entry.kind))));
    this.standing = computed(() => show(standingRecords(this.all.value, 'machine')));
    this.apart = computed(() => show(this.all.value.filter((r) => r.entry.kind === 'kept_apart')));
  }

  get lastSeq(): number {
    return this.stored.peek().at(-1)?.seq ?? 0;
  }

  /** Takes what came after some earlier point; what is here already is left out. */
  take(records: readonly LogRecord[]): void {
    const fresh = records.filter((r) => r.seq > this.lastSeq);
    if (fresh.length > 0) this.stored.value = [...this.stored.peek(), ...fresh];
  }

  /** The latest time any entry counts at, -Infinity without one. */
  latest(): number {
    const times = this.times.peek();
    return this.all.peek().reduce((latest, record) => {
      const t = parseInstant(times(record) ?? '');
      return t > latest ? t : latest; // false for NaN
    }, -Infinity);
  }

  readonly time = (record: LogRecord): string | undefined => this.times.peek()(record);
  /** When an entry counts, in ms: its time, or when it came here without one. */
  readonly instant = (record: LogRecord): number => parseInstant(this.times.peek()(record) ?? record.noted);

  /** What the core is asked: the kinds it reads, standing only, no time ahead of the clock it will be told. */
  file(clock: Clock): { call: string; entries: object[] } {
    const records = standingRecords(this.all.value, 'machine').filter((r) => coreKinds.has(r.entry.kind));
    const back = drawnBack(records, this.instant, clock.now());
    const times = this.times.value;
    const entries = records.map((record) => {
      const { replaces: _, ...entry } = record.entry;
      const moved = back.get(entry.id);
      const at = moved === undefined ? (times(record) ?? record.noted) : new Date(moved).toISOString();
      return { ...entry, at };
    });
    return { call: this.name.value, entries };
  }
}
