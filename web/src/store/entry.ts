// What the log is made of: entries of the call file and the records that hold them on this device.

/** An entry of the call file (docs/formats/call-file.md), or of the one kind of the app's own that the core
    keeps but doesn't read: photo. */
export interface Entry {
  id: string;
  kind: string;
  at: string;
  replaces?: string;
  [key: string]: unknown;
}
/** As it came from outside: a file written by hand may leave the time out. */
export interface RawEntry {
  id: string;
  kind: string;
  at?: string;
  replaces?: string;
  [key: string]: unknown;
}

/** Kinds about the file rather than the machine; never among what a screen lists. */
export const bookkeeping: ReadonlySet<string> = new Set([
  'call_name',
  'redated',
  'kept_apart',
  'call_removed',
]);
/** What a diagnosis rests on. */
export const diagnosisKinds: ReadonlySet<string> = new Set(['nameplate', 'site', 'observation', 'reading']);
/** The kinds the core reads. */
export const coreKinds: ReadonlySet<string> = new Set([
  ...diagnosisKinds,
  ...['note', 'step', 'order', 'procedure', 'test_reading', 'refrigerant_moved', 'part', 'work'],
  ...['cause_found', 'product_temperature', 'signature', 'watch'],
]);

export interface NewRecord {
  entry: RawEntry;
  own: boolean; // made on this device by a person; only these are undone
  noted: string; // what the device's clock said, UTC, whatever `entry.at` was made of it
}
/** An entry in its place: `seq` counts the entries of one call on this device and knows no clock. */
export interface LogRecord extends NewRecord {
  call: string;
  seq: number;
}
export interface PhotoBytes {
  blob: string;
  type: string;
  bytes: ArrayBuffer;
}
/** What is written together or not at all. Records whose id is there already are left out, so that writing a
    batch twice is writing it once. */
export interface Batch {
  key: string;
  call: string;
  records: NewRecord[];
  photos?: PhotoBytes[];
}
/** One row of the list of calls, kept beside the log so that the list need not read every log. */
export interface Head {
  id: string;
  name: string;
  changed: string;
  entries: number;
  demo: boolean;
  removed: boolean;
  seq: number;
}

/** JSON with its keys in order: equal content, equal text. */
export function canonical(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(canonical).join(',')}]`;
  if (value !== null && typeof value === 'object') {
    const object = value as Record<string, unknown>;
    const keys = Object.keys(object)
      .filter((key) => object[key] !== undefined)
      .sort();
    return `{${keys.map((key) => `${JSON.stringify(key)}:${canonical(object[key])}`).join(',')}}`;
  }
  return JSON.stringify(value ?? null);
}

/** Equal content but for the time, which a clock that was wrong may have to give up (clock.ts). */
export function sameContent(a: RawEntry, b: RawEntry): boolean {
  return canonical({ ...a, at: undefined }) === canonical({ ...b, at: undefined });
}

/** FNV-1a over the UTF-8 bytes, 64 bits in hexadecimal, as the core makes ids of entries without one. */
export function fnv(text: string): string {
  let hash = 14695981039346656037n;
  for (const byte of new TextEncoder().encode(text))
    hash = ((hash ^ BigInt(byte)) * 1099511628211n) & 0xffffffffffffffffn;
  return hash.toString(16).padStart(16, '0');
}
