// Undo and redo as entries. Both are read off the log alone, so they survive a kill, a reload and a second tab.
//
// An action is an entry a person made on this device. Taking it back appends one entry, taking it again another:
// - what replaced something gives way to that again, written anew (the core: what was replaced stays replaced);
// - what withdrew something gives it back as a fresh entry, since only a note may replace a note;
// - anything else is withdrawn by a note.
// Ids count the turns of an action (standing.ts), so two tabs that take back the same step write the same entry.
import type { LogRecord, RawEntry } from './entry';
import { byId, replacedIds, turnOf, withdraws } from './standing';

/** An entry to append; without a time where the time is that of the step itself. */
export type Step = RawEntry;

interface Reading {
  ids: ReturnType<typeof byId>;
  replaced: Set<string>;
  turns: Map<string, number>;
  done: string[];
  undone: string[];
  family: (id: string) => string;
  live: (id: string) => LogRecord | null;
  at: (record: LogRecord) => string | undefined;
  records: readonly LogRecord[];
}

function read(records: readonly LogRecord[], at: Reading['at']): Reading {
  const ids = byId(records);
  const replaced = replacedIds(records);
  const turns = new Map<string, number>();
  const done: string[] = [];
  let undone: string[] = [];
  const without = (list: string[], id: string) => {
    const at = list.lastIndexOf(id);
    if (at >= 0) list.splice(at, 1);
  };
  const copyOf = new Map<string, string>();
  for (const { entry, own } of records) {
    const turn = turnOf(entry.id);
    const action = turn && ids.get(turn.action);
    if (!turn || !action) {
      if (own) {
        done.push(entry.id);
        undone = [];
      }
      continue;
    }
    turns.set(turn.action, Math.max(turn.n, turns.get(turn.action) ?? 0));
    if (!turn.withdraws) {
      const original = turn.n % 2 === 0 ? turn.action : action.entry.replaces;
      if (original !== undefined) copyOf.set(entry.id, original);
    }
    if (!own) continue;
    without(done, turn.action);
    without(undone, turn.action);
    (turn.n % 2 === 0 ? done : undone).push(turn.action);
  }
  const family = (id: string): string => {
    const seen = new Set<string>();
    while (copyOf.has(id) && !seen.has(id)) {
      seen.add(id);
      id = copyOf.get(id)!;
    }
    return id;
  };
  /** The copy of an entry's content that stands, if any. */
  const live = (id: string) =>
    records.findLast((r) => !replaced.has(r.entry.id) && family(r.entry.id) === family(id)) ?? null;
  return { ids, replaced, turns, done, undone, family, live, at, records };
}

const again = (r: Reading, original: LogRecord, id: string, replaces?: string): Step => {
  const { replaces: _, ...content } = original.entry;
  return { ...content, id, at: r.at(original), ...(replaces === undefined ? {} : { replaces }) };
};

/** Whether something other than `action` stands in the place of `target`. */
function takenOver(r: Reading, target: string, action: string): boolean {
  return r.records.some(({ entry }) => {
    if (entry.replaces === undefined || r.family(entry.replaces) !== r.family(target)) return false;
    const turn = turnOf(entry.id);
    const by = turn?.action ?? entry.id;
    const taken = (turn?.n ?? 0) % 2 === 0 && (r.turns.get(by) ?? 0) % 2 === 0;
    return taken && by !== action;
  });
}

function takeBack(r: Reading, id: string): Step | null {
  const action = r.ids.get(id)!;
  const stands = r.live(id);
  if (!stands) return null;
  const n = (r.turns.get(id) ?? 0) + 1;
  const before = action.entry.replaces === undefined ? undefined : r.ids.get(action.entry.replaces);
  if (withdraws(action.entry, r.ids)) {
    if (!before || r.live(before.entry.id)) return null;
    return again(r, before, `again-${id}-${n}`);
  }
  if (before && before.entry.kind === action.entry.kind && !takenOver(r, before.entry.id, id))
    return again(r, before, `again-${id}-${n}`, stands.entry.id);
  // Not a sentence but a mark, as the call file wants a note to have a text: screens word it by the id.
  return { kind: 'note', id: `withdraw-${id}-${n}`, text: '-', replaces: stands.entry.id };
}

function takeAgain(r: Reading, id: string): Step | null {
  const action = r.ids.get(id)!;
  const turns = r.turns.get(id) ?? 0;
  const next = `again-${id}-${turns + 1}`;
  const note = `withdraw-${id}-${turns}`;
  if (r.ids.has(note)) return again(r, action, next, action.entry.kind === 'note' ? note : undefined);
  const before = action.entry.replaces === undefined ? null : r.live(action.entry.replaces);
  return before && again(r, action, next, before.entry.id);
}

export interface Turns {
  undo: () => Step | null;
  redo: () => Step | null;
}
export function turnsOf(records: readonly LogRecord[], at: Reading['at']): Turns {
  const r = read(records, at);
  return {
    undo: () => {
      for (const id of r.done.toReversed()) {
        const step = takeBack(r, id);
        if (step) return step;
      }
      return null;
    },
    redo: () => {
      const last = r.undone.at(-1);
      return last === undefined ? null : takeAgain(r, last);
    },
  };
}
