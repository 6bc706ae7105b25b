// What a log says now: which entries stand, what the call is called, at what time each entry counts.
import { parseInstant } from './clock';
import { bookkeeping, type Entry, type Head, type LogRecord, type RawEntry } from './entry';

/** A step taken back or taken again is known by its id, so that this survives export and merging:
    withdraw-<action>-<n> or again-<action>-<n>, n counting the turns of that action. */
export interface Turn {
  withdraws: boolean;
  action: string;
  n: number;
}
export function turnOf(id: string): Turn | null {
  const m = /^(withdraw|again)-(.+)-(\d+)$/.exec(id);
  return m ? { withdraws: m[1] === 'withdraw', action: m[2]!, n: Number(m[3]) } : null;
}

/** The id under which an entry first came: undo and redo write its content anew under ids of their own. */
export function firstIds(log: readonly RawEntry[]): (id: string) => string {
  const byId = new Map(log.map((entry) => [entry.id, entry]));
  return (id) => {
    const seen = new Set<string>();
    for (let turn = turnOf(id); turn && !turn.withdraws && !seen.has(id); turn = turnOf(id)) {
      seen.add(id);
      const action = byId.get(turn.action);
      id = (turn.n % 2 === 0 ? action?.id : action?.replaces) ?? id;
    }
    return id;
  };
}

export type ById = ReadonlyMap<string, LogRecord>;
export const byId = (records: readonly LogRecord[]): ById => new Map(records.map((r) => [r.entry.id, r]));
export const replacedIds = (records: readonly LogRecord[]): Set<string> =>
  new Set(records.flatMap((r) => (r.entry.replaces === undefined ? [] : [r.entry.replaces])));

/** A note that only takes something away and says nothing of its own. */
export function withdraws(entry: RawEntry, ids: ById): boolean {
  if (entry.kind !== 'note' || entry.replaces === undefined) return false;
  const target = ids.get(entry.replaces);
  return turnOf(entry.id)?.withdraws || (target !== undefined && target.entry.kind !== 'note');
}

/** The records that stand, in the order of the log; `about` the machine or the file. */
export function standingRecords(records: readonly LogRecord[], about: 'machine' | 'file'): LogRecord[] {
  const replaced = replacedIds(records);
  const ids = byId(records);
  return records.filter(
    ({ entry }) =>
      bookkeeping.has(entry.kind) === (about === 'file') && !replaced.has(entry.id) && !withdraws(entry, ids),
  );
}

/** The time each entry counts at. Of several times for one entry the earliest counts: a clock may only have
    been ahead. That makes it the same on every device whatever the order of merging. */
export function timesOf(records: readonly LogRecord[]): (record: LogRecord) => string | undefined {
  const earlier = new Map<string, string>();
  for (const { entry } of records) {
    if (entry.kind !== 'redated' || typeof entry.of !== 'string' || typeof entry.to !== 'string') continue;
    const known = earlier.get(entry.of);
    if (known === undefined || parseInstant(entry.to) < parseInstant(known)) earlier.set(entry.of, entry.to);
  }
  return ({ entry }) => {
    const to = earlier.get(entry.id);
    if (to === undefined) return entry.at;
    return entry.at === undefined || parseInstant(to) < parseInstant(entry.at) ? to : entry.at;
  };
}

/** As the screens see an entry: an entry that came without a time shows when it came to this device. */
export function shown(record: LogRecord, at: string | undefined): Entry {
  return { ...record.entry, at: at ?? record.noted } as Entry;
}

interface Heading {
  name: string;
  demo: boolean;
}
/** Of several names that stand, given on several devices, the latest counts. */
export function headingOf(records: readonly LogRecord[]): Heading {
  const times = timesOf(records);
  let name = '';
  let best: readonly [number, string] = [-Infinity, ''];
  for (const record of standingRecords(records, 'file')) {
    if (record.entry.kind !== 'call_name') continue;
    const t = parseInstant(times(record) ?? '');
    const rank = [Number.isNaN(t) ? -Infinity : t, record.entry.id] as const;
    if (rank[0] < best[0] || (rank[0] === best[0] && rank[1] < best[1])) continue;
    best = rank;
    name = String(record.entry.name ?? '');
  }
  return { name, demo: records.some((r) => r.entry.kind === 'call_name' && r.entry.demo === true) };
}

export function headOf(id: string, records: readonly LogRecord[]): Head {
  const { name, demo } = headingOf(records);
  const times = timesOf(records);
  const last = records.at(-1);
  return {
    id,
    name,
    demo,
    changed: last ? (times(last) ?? last.noted) : '',
    entries: records.filter((r) => !bookkeeping.has(r.entry.kind)).length,
    removed: standingRecords(records, 'file').some(
      (r) => r.entry.kind === 'call_removed' && r.entry.removed === true,
    ),
    seq: last?.seq ?? 0,
  };
}
