// What can be written down of the work: each kind of entry with its fields, and how one of them is read back.
import type { Entry, NewEntry } from '../../../store/store';
import type { Amount } from '../../handy/units';

export interface EntryField {
  key: string;
  lines?: number;
  amount?: Amount;
  choices?: readonly string[];
  /** Without it the entry says nothing. */
  needed?: boolean;
  /** Shown only where another field says so. */
  when?: (values: Readonly<Record<string, string>>) => boolean;
  hint?: boolean;
}
export interface EntryKind {
  kind: 'cause_found' | 'work' | 'part' | 'refrigerant_moved' | 'product_temperature' | 'watch';
  fields: readonly EntryField[];
}

const weighed = (v: Readonly<Record<string, string>>) => v.how_much === 'scale';

export const entryKinds: readonly EntryKind[] = [
  {
    kind: 'cause_found',
    fields: [
      { key: 'cause', needed: true },
      { key: 'how', lines: 2 },
    ],
  },
  { kind: 'work', fields: [{ key: 'text', lines: 3, needed: true }] },
  {
    kind: 'part',
    fields: [
      { key: 'part', needed: true },
      { key: 'action', choices: ['replaced', 'fitted', 'removed', 'cleaned', 'repaired'], needed: true },
      { key: 'detail', lines: 2 },
      { key: 'cost', hint: true },
    ],
  },
  {
    kind: 'refrigerant_moved',
    fields: [
      { key: 'movement', choices: ['recovered', 'charged', 'released', 'lost'], needed: true },
      { key: 'how_much', choices: ['mass', 'scale'] },
      { key: 'mass', amount: 'mass', needed: true, when: (v) => !weighed(v) },
      { key: 'before', amount: 'mass', needed: true, when: weighed },
      { key: 'after', amount: 'mass', needed: true, when: weighed },
      { key: 'cylinder', hint: true },
      { key: 'refrigerant' },
    ],
  },
  {
    kind: 'product_temperature',
    fields: [{ key: 'value', amount: 'temperature', needed: true }, { key: 'product' }],
  },
  { kind: 'watch', fields: [{ key: 'text', lines: 2, needed: true }] },
];

/** Fields that steer the sheet and are not part of the entry. */
const ofTheSheet = new Set(['how_much']);

export function shownFields(
  kind: EntryKind,
  values: Readonly<Record<string, string>>,
): readonly EntryField[] {
  return kind.fields.filter((f) => f.when?.(values) ?? true);
}
export function complete(kind: EntryKind, values: Readonly<Record<string, string>>): boolean {
  return shownFields(kind, values).every((f) => !f.needed || (values[f.key] ?? '').trim() !== '');
}
/** The entry that the sheet's values make. */
export function entryOf(
  kind: EntryKind,
  values: Readonly<Record<string, string>>,
  correct: Entry | null,
): NewEntry {
  const entry: NewEntry = { kind: kind.kind };
  for (const f of shownFields(kind, values)) {
    const text = (values[f.key] ?? '').trim();
    if (text && !ofTheSheet.has(f.key)) entry[f.key] = text;
  }
  if (correct) entry.replaces = correct.id;
  return entry;
}
/** An entry as the sheet's values, to be corrected. */
export function valuesOf(kind: EntryKind, entry: Entry): Record<string, string> {
  const values: Record<string, string> = {};
  for (const f of kind.fields) if (entry[f.key] !== undefined) values[f.key] = String(entry[f.key]);
  if (kind.kind === 'refrigerant_moved') values.how_much = entry.before === undefined ? 'mass' : 'scale';
  return values;
}

export interface Movement {
  movement: string;
  cylinder: string;
  mass: string | null;
  before: string | null;
  after: string | null;
}
export function movementOf(entry: Entry): Movement {
  const text = (key: string) => (typeof entry[key] === 'string' ? (entry[key] as string) : null);
  return {
    movement: text('movement') ?? '',
    cylinder: text('cylinder') ?? '',
    mass: text('mass'),
    before: text('before'),
    after: text('after'),
  };
}

/** Texts whose masses must be known before the account can be drawn up. */
export function massesIn(movements: readonly Movement[]): string[] {
  return [...new Set(movements.flatMap((m) => [m.mass, m.before, m.after].filter((t) => t !== null)))];
}

export interface AccountRow {
  cylinder: string;
  /** Into the cylinder and out of it, kg. */
  into: number;
  outOf: number;
}
export interface Account {
  rows: AccountRow[];
  /** Out of the machine by way of no cylinder: released and lost, kg. */
  gone: number;
  /** Movements whose mass nobody can tell. */
  unknown: number;
}

/** In and out by cylinder. `kilograms` knows each text's mass; null where it can't be told. */
export function accountOf(
  movements: readonly Movement[],
  kilograms: (text: string) => number | null,
): Account {
  const rows = new Map<string, AccountRow>();
  let gone = 0;
  let unknown = 0;
  for (const m of movements) {
    const charged = m.movement === 'charged';
    const before = m.before === null ? null : kilograms(m.before);
    const after = m.after === null ? null : kilograms(m.after);
    const given = m.mass === null ? null : kilograms(m.mass);
    const scale = before === null || after === null ? null : charged ? before - after : after - before;
    const mass = given ?? scale;
    if (mass === null) {
      ++unknown;
      continue;
    }
    if (m.movement === 'released' || m.movement === 'lost') {
      gone += mass;
      continue;
    }
    const row = rows.get(m.cylinder) ?? { cylinder: m.cylinder, into: 0, outOf: 0 };
    if (charged) row.outOf += mass;
    else row.into += mass;
    rows.set(m.cylinder, row);
  }
  return { rows: [...rows.values()], gone, unknown };
}
