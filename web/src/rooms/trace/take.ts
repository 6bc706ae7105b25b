// What a trace found, taken into a call: entries as any other, and one that says which files they came from.
import type { TraceAnswer } from '../../engine/engine';
import type { Entry, NewEntry, OpenCall } from '../../store/store';
import { firstIds } from '../../store/standing';
import { withdrawal } from '../call/read/fold';

/** A kind of the app's own: `files`, the names of what was read; `took`, the ids of the entries that came of it. */
const traceKind = 'trace_taken';

/** The moment `s` after the main file's start, by the phone's zone where the file names none; none without dates. */
export function momentOf(answer: TraceAnswer, s: number): string | null {
  const main = answer.files.find((f) => f.main);
  if (!main || main.start === null) return null;
  const clock = new Date((main.start + s) * 1000);
  if (main.zoned) return clock.toISOString();
  const [y, m, d] = [clock.getUTCFullYear(), clock.getUTCMonth(), clock.getUTCDate()];
  return new Date(y, m, d, clock.getUTCHours(), clock.getUTCMinutes(), clock.getUTCSeconds()).toISOString();
}

/** The entries that the answer offers, each at the time it was logged. */
export function entriesOf(answer: TraceAnswer): NewEntry[] {
  const at = momentOf(answer, answer.evidence.to);
  return answer.evidence.entries.map((entry) => {
    const content = { ...entry } as NewEntry;
    if (content.at === undefined && at !== null) content.at = at;
    return content;
  });
}

const namesOf = (answer: TraceAnswer) => answer.files.map((f) => f.name);

/** In one piece, so that a phone that dies takes all of it or nothing. What says whence they came stands first: undo,
    step by step, takes it back last. */
export async function takeInto(call: OpenCall, answer: TraceAnswer): Promise<void> {
  const entries = entriesOf(answer).map((entry) => ({ ...entry, id: crypto.randomUUID() }));
  const took = entries.map((e) => e.id);
  await call.addAll([{ kind: traceKind, files: namesOf(answer), took }, ...entries]);
}

export interface Taken {
  entry: Entry;
  files: string[];
  /** those of its entries that stand */
  stand: Entry[];
}

type Of = Pick<OpenCall, 'log' | 'standing'>;

/** What was taken from traces and stands, wholly or in part, undone and done again as well; an entry that was
    corrected is a person's own. */
export function takenOf(call: Of): Taken[] {
  const standing = call.standing.value;
  const first = firstIds(call.log.value);
  const byId = new Map(standing.map((e) => [first(e.id), e]));
  return standing
    .filter((e) => e.kind === traceKind)
    .map((entry) => ({
      entry,
      files: Array.isArray(entry.files) ? entry.files.map(String) : [],
      stand: (Array.isArray(entry.took) ? entry.took : []).flatMap((id) => byId.get(String(id)) ?? []),
    }));
}

/** Withdraws all of it that stands; each withdrawal can be undone. */
export async function takeOut(call: OpenCall, taken: Taken): Promise<void> {
  await call.addAll([...taken.stand, taken.entry].map(withdrawal));
}

/** Whether the same findings of the same files stand in the call already. */
export function stands(call: Of, answer: TraceAnswer): boolean {
  const said = (e: { [key: string]: unknown }) =>
    ['kind', 'what', 'subject', 'value', 'box', 'ambient'].map((key) => e[key] ?? '').join('|');
  const wanted = entriesOf(answer).map(said).sort().join();
  return takenOf(call).some(
    (t) => t.files.join() === namesOf(answer).join() && t.stand.map(said).sort().join() === wanted,
  );
}
