// The files that are open and what was read from them: outlives the screen, so that going to a call and back finds
// all as it was. A reload asks for the files again; a browser gives a page no right to keep them.
import { signal } from '@preact/signals';
import { ProblemError, type Problem, type TraceAnswer } from '../../engine/engine';
import type { TraceLayout, TraceQuestion, UseCases } from '../../engine/use_cases';
import { app } from '../../shell/app';
import { prefs } from '../../shell/prefs';
import type { Site } from '../call/read/understood';
import { headBytes, headText, type Encoding } from './head';
import { answered, withColumn, type Change } from './layout';

export type Guess = UseCases['trace_layout']['answer'];
/** What a person said of the signs, around which the rest is guessed. */
type Signs = Pick<UseCases['trace_layout']['request'], 'separator' | 'decimal'>;

export interface Opened {
  id: number;
  file: File;
  encoding: Encoding;
  signs: Signs;
  guess: Guess | null;
  /** the guess as it was corrected; null where nothing can be read from the file */
  layout: TraceLayout | null;
  problem: Problem | null;
}
export interface Read {
  answer: TraceAnswer;
  /** which files with which layouts */
  layouts: string;
  /** against which air */
  site: string;
  /** all that it depends on: those, and the language and units it is worded in */
  of: string;
}

export const files = signal<readonly Opened[]>([]);
export const share = signal<number | null>(null);
export const found = signal<Read | null>(null);
export const trouble = signal<Problem | null>(null);

let lastId = 0;
let stop: AbortController | null = null;

const put = (id: number, change: Partial<Opened>) =>
  (files.value = files.value.map((f) => (f.id === id ? { ...f, ...change } : f)));

const plain = (why: string): Problem => ({ field: 'unreadable', given: '', allowed: '', why, text: why });

async function guess(one: Opened, signs: Signs): Promise<Partial<Opened>> {
  try {
    const bytes = new Uint8Array(await one.file.slice(0, headBytes).arrayBuffer());
    const { text, encoding } = headText(bytes);
    const answer = await app.engine.ask('trace_layout', { text, name: one.file.name, ...signs });
    return { encoding, signs, guess: answer, layout: { ...answer.layout, encoding }, problem: null };
  } catch (error) {
    if (error instanceof ProblemError) return { signs, layout: null, problem: error.problem };
    return { signs, layout: null, problem: plain(String(error)) };
  }
}

/** Opens files beside those that are open. */
export async function open(chosen: readonly File[]): Promise<void> {
  const fresh = chosen.map((file): Opened => ({
    ...{ id: ++lastId, file, encoding: 'utf8', signs: {} },
    ...{ guess: null, layout: null, problem: null },
  }));
  files.value = [...files.value, ...fresh];
  for (const one of fresh) put(one.id, await guess(one, {}));
}

export function remove(id: number): void {
  cancel(); // what is being read has that file in it
  files.value = files.value.filter((f) => f.id !== id);
  if (files.value.length === 0) found.value = null;
  trouble.value = null;
}

/** Another sign parts the columns or marks the decimals: the rest is guessed anew around it. */
export async function sayingSigns(id: number, signs: Signs): Promise<void> {
  const one = files.value.find((f) => f.id === id);
  if (one) put(id, await guess(one, { ...one.signs, ...signs }));
}

export function change(id: number, to: Change): void {
  const one = files.value.find((f) => f.id === id);
  if (one?.layout && one.guess) put(id, { layout: withColumn(one.layout, one.guess.choices.columns, to) });
}
export function setTime(id: number, time: TraceLayout['time']): void {
  const one = files.value.find((f) => f.id === id);
  if (one?.layout) put(id, { layout: { ...one.layout, time } });
}
export function answer(id: number, question: TraceQuestion, value: string): void {
  const one = files.value.find((f) => f.id === id);
  if (one?.layout && one.guess)
    put(id, { layout: answered(one.layout, one.guess.choices.columns, question, value) });
}

/** The words of what can be chosen, in another language; what was corrected stays. */
export async function rewordAll(): Promise<void> {
  for (const one of files.value) {
    if (!one.guess) continue;
    const { guess: fresh } = await guess(one, one.signs);
    if (fresh) put(one.id, { guess: fresh });
  }
}

const usable = () => files.value.filter((f) => f.layout);
export const layoutsNow = (): string => JSON.stringify(usable().map((f) => [f.id, f.layout]));
/** Gauges were read against the air of the call's site, so another site is another reading. */
export const siteKey = (site: Site): string => JSON.stringify([site.altitude, site.barometer]);
export const readKey = (site: Site): string =>
  [layoutsNow(), siteKey(site), prefs.language.value, prefs.units.value].join(' ');

/** Points each series is thinned to: enough to come thirty times nearer with the plot's own pixels. */
const points = 20_000;

/** Null where it failed (`trouble` then says why) or was stopped. */
export async function read(site: Site): Promise<Read | null> {
  stop?.abort();
  const mine = new AbortController();
  stop = mine;
  const as = { layouts: layoutsNow(), site: siteKey(site), of: readKey(site) };
  const logged = usable().map((f) => ({ name: f.file.name, layout: JSON.stringify(f.layout), file: f.file }));
  trouble.value = null;
  share.value = 0;
  try {
    const answer = await app.engine.trace(
      logged,
      { points, ...site },
      { signal: mine.signal, onProgress: (s) => mine === stop && (share.value = s) },
    );
    return mine === stop ? (found.value = { answer, ...as }) : null;
  } catch (error) {
    if (mine === stop && !mine.signal.aborted)
      trouble.value = error instanceof ProblemError ? error.problem : plain(String(error));
    return null;
  } finally {
    if (mine === stop) {
      share.value = null;
      stop = null;
    }
  }
}

/** What was read before stays as it was. */
export function cancel(): void {
  stop?.abort();
  stop = null;
  share.value = null;
}
