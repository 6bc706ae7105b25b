// Every text of the screens: src/words/<language>/<room>.json, flat keys, {placeholders}. A key that is
// missing is a compile error in English and a failed test in the other languages (words.test.ts).
import { signal } from '@preact/signals';
import { prefs } from '../shell/prefs';

export const languages = ['en', 'es', 'fr'] as const;
export type Language = (typeof languages)[number];

interface Rooms {
  shell: typeof import('./en/shell.json');
  calls: typeof import('./en/calls.json');
  call: typeof import('./en/call.json');
  answer: typeof import('./en/answer.json');
  repair: typeof import('./en/repair.json');
  handy: typeof import('./en/handy.json');
  settings: typeof import('./en/settings.json');
  practice: typeof import('./en/practice.json');
  trace: typeof import('./en/trace.json');
}
export type Key = { [R in keyof Rooms]: `${R}.${Extract<keyof Rooms[R], string>}` }[keyof Rooms];
type Pack = Record<string, Record<string, string>>;

const loaders: Record<Language, () => Promise<{ default: Pack }>> = {
  en: () => import('./en'),
  es: () => import('./es'),
  fr: () => import('./fr'),
};
const pack = signal<Pack>({});

/** Loads the words of the language in use; before the first render, and again when it changes. */
export async function loadWords(language: Language): Promise<void> {
  pack.value = (await loaders[language]()).default;
  document.documentElement.lang = language;
}

/** The text of `key` with its {placeholders} filled. Reading it in a component follows the language. */
export function say(key: Key, values: Record<string, string | number> = {}): string {
  const [room = '', name = ''] = key.split(/\.(.*)/s);
  const text = pack.value[room]?.[name];
  if (text === undefined) return `[${key}]`;
  return text.replace(/\{(\w+)\}/g, (whole, slot: string) => {
    const value = values[slot];
    return value === undefined ? whole : typeof value === 'number' ? number(value) : value;
  });
}

/** A count chooses between `key_one` and `key_other`. */
export function sayCount(key: string, n: number, values: Record<string, string | number> = {}): string {
  const form = new Intl.PluralRules(prefs.language.value).select(n) === 'one' ? 'one' : 'other';
  return say(`${key}_${form}` as Key, { n, ...values });
}

/** A number as it is written in the language in use. */
export function number(value: number, digits?: number): string {
  return new Intl.NumberFormat(prefs.language.value, {
    minimumFractionDigits: digits,
    maximumFractionDigits: digits ?? 3,
    useGrouping: false,
  }).format(value);
}

/** An amount of storage as the language writes it: "12 kB", "1.3 MB", "10.7 GB"; what isn't empty has a kilobyte. */
export function bytesText(bytes: number): string {
  const [share, unit] =
    bytes < 1e6
      ? [Math.ceil(bytes / 1e3), 'kilobyte']
      : bytes < 1e9
        ? [bytes / 1e6, 'megabyte']
        : [bytes / 1e9, 'gigabyte'];
  return new Intl.NumberFormat(prefs.language.value, {
    style: 'unit',
    unit,
    maximumFractionDigits: 1,
  }).format(share);
}

/** A stored instant as date and time of day where the reader is. */
export function moment(at: string): string {
  return new Intl.DateTimeFormat(prefs.language.value, { dateStyle: 'medium', timeStyle: 'short' }).format(
    new Date(at),
  );
}
