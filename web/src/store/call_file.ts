// The call file of docs/formats/call-file.md, in and out. Photos travel in entries of the kind photo_bytes, which
// no log holds. What is refused is said as a key of what was allowed; the words come from the screens.
import { parseInstant } from './clock';
import { canonical, fnv, type PhotoBytes, type RawEntry } from './entry';
import { parseStrict } from './strict_json';

/** The app's own bound; the command line's is 1 MB, so a file with photos is for the app. */
export const largestImport = 64 * 1024 * 1024;
const mostEntries = 5000;

export type Allowed =
  | 'size'
  | 'utf8'
  | 'json'
  | 'each_key_once'
  | 'depth_32'
  | 'object'
  | 'file_keys'
  | 'format_1'
  | 'name_200'
  | 'units'
  | 'entries'
  | 'entries_5000'
  | 'kind'
  | 'entry_keys'
  | 'text'
  | 'text_80'
  | 'text_120'
  | 'text_200'
  | 'text_4000'
  | 'instant'
  | 'other_id'
  | 'photo'
  | 'base64';
export interface Refusal {
  field: string; // "file", "call", or "entries[3].at"
  given: string; // as it stood there, shortened
  allowed: Allowed;
  choices?: readonly string[]; // the words that would do, where they are few
}
export class ImportRefused extends Error {
  constructor(readonly refusal: Refusal) {
    super(refusal.allowed);
  }
}

export interface ReadCall {
  name: string;
  units?: string;
  call: string | null; // the id of the call, when the app has written the file
  entries: RawEntry[];
  photos: PhotoBytes[];
}

const fileKeys = ['call', 'format', 'units', 'entries'];
const commonKeys = ['kind', 'id', 'at', 'by', 'replaces'];
/** The keys of the kinds the core reads; an unknown one it refuses. */
const ownKeys: Record<string, readonly string[]> = {
  nameplate: [
    ...['cabinet', 'refrigerant', 'charge', 'rated_current', 'rated_voltage', 'frequency', 'displacement'],
    ...['set_point', 'condenser', 'maker', 'model', 'serial'],
  ],
  site: ['ambient', 'box', 'altitude', 'barometer'],
  observation: ['subject', 'value'],
  reading: ['what', 'value', 'accuracy', 'running_for', 'instrument'],
  note: ['text'],
  step: ['step', 'state', 'reason'],
  order: ['steps'],
  procedure: ['procedure', 'run', 'with'],
  test_reading: ['procedure', 'run', 'pressure', 'temperature', 'box', 'current', 'mass', 'flow'],
  refrigerant_moved: ['movement', 'mass', 'before', 'after', 'cylinder', 'refrigerant'],
  part: ['part', 'action', 'detail', 'cost'],
  work: ['text'],
  cause_found: ['cause', 'how'],
  product_temperature: ['value', 'product'],
  signature: ['role', 'name', 'path', 'width', 'height'],
  watch: ['text'],
};
/** Keys that hold a number, a list or an object, or a text longer than the rest: the core looks at them. */
const largeKeys = ['run', 'steps', 'with', 'path', 'width', 'height'];
/** The longest text of kinds that tell at length; elsewhere 200 bytes. */
const longKinds = ['note', 'work', 'watch', 'step', 'part', 'cause_found'];

const bytesOf = (text: string) => new TextEncoder().encode(text).length;
function refuse(field: string, given: unknown, allowed: Allowed, choices?: readonly string[]): never {
  const text = typeof given === 'string' ? given : (JSON.stringify(given) ?? '');
  throw new ImportRefused({ field, given: text.slice(0, 80), allowed, ...(choices ? { choices } : {}) });
}

/** Throws ImportRefused at the first thing that is wrong, from the top. */
export async function readCallFile(file: Blob): Promise<ReadCall> {
  if (file.size > largestImport) refuse('file', String(file.size), 'size');
  let text: string;
  try {
    text = new TextDecoder('utf-8', { fatal: true }).decode(await file.arrayBuffer());
  } catch {
    return refuse('file', '', 'utf8');
  }
  const parsed = parseStrict(text);
  if ('allowed' in parsed) return refuse('file', parsed.given, parsed.allowed);
  const root = parsed.value;
  if (!isObject(root)) return refuse('file', root, 'object');
  for (const key of Object.keys(root))
    if (!fileKeys.includes(key)) refuse('file', key, 'file_keys', fileKeys);
  const { call = '', format = 1, units, entries } = root;
  if (format !== 1) refuse('format', format, 'format_1');
  if (typeof call !== 'string' || bytesOf(call) > 200) return refuse('call', call, 'name_200');
  if (units !== undefined && units !== 'us' && units !== 'metric')
    refuse('units', units, 'units', ['us', 'metric']);
  if (!Array.isArray(entries)) return refuse('entries', entries ?? '', 'entries');
  const read: ReadCall = { name: call, call: null, entries: [], photos: [] };
  if (typeof units === 'string') read.units = units;
  entries.forEach((entry: unknown, i) => takeEntry(read, entry, `entries[${i}]`));
  if (read.entries.length > mostEntries) refuse('entries', String(read.entries.length), 'entries_5000');
  return read;
}

const isObject = (value: unknown): value is Record<string, unknown> =>
  value !== null && typeof value === 'object' && !Array.isArray(value);

function takeEntry(read: ReadCall, entry: unknown, field: string): void {
  if (!isObject(entry)) return refuse(field, entry, 'object');
  checkEntry(entry, field);
  if (entry.kind === 'photo_bytes') {
    read.photos.push(photoOf(entry, field));
    return;
  }
  if (entry.kind === 'call_name' && typeof entry.call === 'string') read.call ??= entry.call;
  read.entries.push(withId(entry));
}

function checkEntry(entry: Record<string, unknown>, field: string): void {
  const kind = entry.kind;
  const kinds = Object.keys(ownKeys);
  if (typeof kind !== 'string' || kind === '' || bytesOf(kind) > 60)
    return refuse(`${field}.kind`, kind ?? '', 'kind', kinds);
  const slip = kinds.find((known) => known !== kind && isSlip(kind, known));
  if (slip && !kinds.includes(kind)) refuse(`${field}.kind`, kind, 'kind', [slip]);
  const text = (key: string, longest: 80 | 120 | 200 | 4000) => {
    const value = entry[key];
    if (value === undefined) return;
    const fits = typeof value === 'string' && value !== '' && bytesOf(value) <= longest;
    if (!fits) refuse(`${field}.${key}`, value, `text_${longest}`);
    if (longest === 80 && /[\u0000-\u001f\u007f]/.test(value)) refuse(`${field}.${key}`, value, 'text_80');
  };
  const own = ownKeys[kind];
  if (own || kind !== 'photo_bytes') {
    text('id', 80);
    text('replaces', 80);
    text('by', 120);
    text('at', 80);
    if (typeof entry.at === 'string' && Number.isNaN(parseInstant(entry.at)))
      refuse(`${field}.at`, entry.at, 'instant');
    if (entry.id !== undefined && entry.replaces === entry.id)
      refuse(`${field}.replaces`, entry.id, 'other_id');
  }
  if (kind === 'photo' && typeof entry.blob !== 'string') refuse(`${field}.blob`, entry.blob ?? '', 'photo');
  for (const key of own ? Object.keys(entry) : []) {
    if (commonKeys.includes(key)) continue;
    if (!own!.includes(key)) refuse(`${field}.${key}`, key, 'entry_keys', [...commonKeys, ...own!]);
    if (!largeKeys.includes(key)) text(key, longKinds.includes(kind) ? 4000 : 200);
  }
}

/** A slip of the pen rather than a later version's word: the core's rule, core/base/text.hpp. */
function isSlip(word: string, known: string): boolean {
  const a = word.toLowerCase();
  return distance(a, known) <= Math.min(3, Math.max(1, Math.floor(known.length / 3)));
}
/** Edit distance with swaps of neighbours counted once. */
function distance(a: string, b: string): number {
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; ++i) {
    const row = [i];
    for (let j = 1; j <= b.length; ++j) {
      const change = last[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1);
      row[j] = Math.min(last[j]! + 1, row[j - 1]! + 1, change);
      const swapped = i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1];
      if (swapped) row[j] = Math.min(row[j]!, beforeLast[j - 2]! + 1);
    }
    beforeLast = last;
    last = row;
  }
  return last[b.length]!;
}

/** An entry without an id is known by what it says, as the core has it, so that a file read twice stays one. */
export function withId(entry: Record<string, unknown>): RawEntry {
  if (entry.id !== undefined) return entry as RawEntry;
  return { ...entry, id: `entry-${fnv(canonical(entry))}` } as RawEntry;
}

function photoOf(entry: Record<string, unknown>, field: string): PhotoBytes {
  const { blob, type, base64 } = entry;
  if (typeof blob !== 'string' || blob === '' || bytesOf(blob) > 80)
    return refuse(`${field}.blob`, blob ?? '', 'text_80');
  if (type !== 'image/jpeg') return refuse(`${field}.type`, type ?? '', 'photo', ['image/jpeg']);
  if (typeof base64 !== 'string') return refuse(`${field}.base64`, base64 ?? '', 'base64');
  try {
    return { blob, type, bytes: Uint8Array.from(atob(base64), (c) => c.charCodeAt(0)).buffer };
  } catch {
    return refuse(`${field}.base64`, base64, 'base64');
  }
}

function base64Of(bytes: ArrayBuffer): string {
  const parts: string[] = [];
  const all = new Uint8Array(bytes);
  for (let at = 0; at < all.length; at += 0x8000)
    parts.push(String.fromCharCode(...all.subarray(at, at + 0x8000)));
  return btoa(parts.join(''));
}

/** A name as long as the file may hold, cut between characters. */
export function nameFor(name: string): string {
  let cut = name;
  while (bytesOf(cut) > 200) cut = [...cut].slice(0, -1).join('');
  return cut;
}

/** One entry a line, so that two files of one call can be compared by eye and by diff. */
export function writeCallFile(
  name: string,
  units: string | undefined,
  entries: readonly RawEntry[],
  photos: readonly PhotoBytes[],
): Blob {
  const heading = { call: nameFor(name), format: 1, ...(units ? { units } : {}) };
  const lines = entries.map((entry) => JSON.stringify(entry));
  for (const { blob, type, bytes } of photos)
    lines.push(
      JSON.stringify({ id: `bytes-${blob}`, kind: 'photo_bytes', blob, type, base64: base64Of(bytes) }),
    );
  const parts = [JSON.stringify(heading).slice(0, -1), ',"entries":[\n', lines.join(',\n'), '\n]}\n'];
  return new Blob(parts, { type: 'application/json' });
}
