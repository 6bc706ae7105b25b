// What the entries of a call say now, as the screens show it, and the entries a change takes.
import type { Entry, NewEntry } from '../../../store/store';

const own = new Set(['id', 'at', 'replaces', 'kind', 'by']);

/** An entry's content without what belongs to that one entry: what a correction writes again. */
export function contentOf(entry: Entry): NewEntry {
  const { id: _id, at: _at, replaces: _replaces, ...content } = entry;
  return content as NewEntry;
}

/** Each field of the plate or the site with the entry that says it; of several the latest. */
export function fieldsOf(standing: readonly Entry[], kind: 'nameplate' | 'site'): Map<string, Entry> {
  const fields = new Map<string, Entry>();
  for (const entry of standing) {
    if (entry.kind !== kind) continue;
    for (const field of Object.keys(entry)) {
      if (own.has(field)) continue;
      const known = fields.get(field);
      if (!known || known.at <= entry.at) fields.set(field, entry);
    }
  }
  return fields;
}

export const withdrawal = (entry: Entry): NewEntry => ({ kind: 'note', text: '-', replaces: entry.id });

/** The entries that make `field` say `value`, or nothing with null. An entry is written again in full, and two
    entries that contradict each other end as one: a plate says one thing. */
export function changeField(
  standing: readonly Entry[],
  kind: 'nameplate' | 'site',
  field: string,
  value: string | null,
): NewEntry[] {
  const holders = standing.filter((e) => e.kind === kind && e[field] !== undefined);
  const kept = fieldsOf(standing, kind).get(field);
  const changes: NewEntry[] = [];
  for (const entry of holders) {
    const content = contentOf(entry);
    if (entry === kept && value !== null) content[field] = value;
    else delete content[field];
    const empty = !Object.keys(content).some((key) => !own.has(key));
    changes.push(empty ? withdrawal(entry) : { ...content, replaces: entry.id });
  }
  if (holders.length === 0 && value !== null) changes.push({ kind, [field]: value });
  return changes;
}

/** All readings of each kind, the oldest first. */
export function readingsOf(standing: readonly Entry[]): Map<string, Entry[]> {
  const all = new Map<string, Entry[]>();
  for (const entry of standing) {
    if (entry.kind !== 'reading') continue;
    const what = String(entry.what);
    all.set(what, [...(all.get(what) ?? []), entry]);
  }
  for (const list of all.values()) list.sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
  return all;
}

/** What counts now: the latest of each. */
export function latestOf(standing: readonly Entry[]): Map<string, Entry> {
  return new Map([...readingsOf(standing)].map(([what, list]) => [what, list.at(-1)!]));
}

/** The standing entry of each subject seen; of several the latest. */
export function seenOf(standing: readonly Entry[]): Map<string, Entry> {
  const seen = new Map<string, Entry>();
  for (const entry of standing) {
    if (entry.kind !== 'observation') continue;
    const known = seen.get(String(entry.subject));
    if (!known || known.at <= entry.at) seen.set(String(entry.subject), entry);
  }
  return seen;
}

export type StepState = 'done' | 'skipped' | 'open';

/** Each step with the entry that says how it stands. */
export function stepsOf(standing: readonly Entry[]): Map<string, Entry> {
  return new Map(standing.filter((e) => e.kind === 'step').map((e) => [String(e.step), e]));
}

export function stateOf(step: Entry | undefined): StepState {
  return step?.state === 'done' || step?.state === 'skipped' ? step.state : 'open';
}

/** Photos of an entry and of those it corrected: a correction takes the photo along. */
export function photosOf(
  log: readonly Entry[],
  standing: readonly Entry[],
  entry: Entry | undefined,
): Entry[] {
  const before = new Map(log.map((e) => [e.id, e.replaces]));
  const family = new Set<string>();
  for (let id = entry?.id; id !== undefined && !family.has(id); id = before.get(id)) family.add(id);
  return standing.filter((e) => e.kind === 'photo' && family.has(String(e.of)));
}

export type Against = 'below' | 'within' | 'above';
export function against(value: number, low: number, high: number): Against {
  return value < low ? 'below' : value > high ? 'above' : 'within';
}
