// Times that survive a clock set wrong. Order comes from the sequence of the log; `at` only follows it, so it
// never goes back, and what a clock set ahead has written is drawn back below now without changing the order.
import type { LogRecord } from './entry';

export interface Clock {
  now(): number; // ms since 1970, as the device believes
  offset(ms: number): number; // minutes ahead of UTC
}
export const deviceClock: Clock = {
  now: () => Date.now(),
  offset: (ms) => -new Date(ms).getTimezoneOffset(),
};

/** Nothing was entered before the app existed: a clock that says so has lost its date. */
export const appBegan = Date.UTC(2025, 10, 20);
/** The core takes entries up to five minutes ahead; we draw back a little earlier. */
export const slackMs = 4 * 60_000;

const form = /^(\d{4}-\d\d-\d\d)[Tt ](\d\d:\d\d)(:\d\d(\.\d+)?)?([Zz]|[+-]\d\d:\d\d)$/;

/** NaN when it isn't a time as the call file writes it. */
export function parseInstant(text: string): number {
  const m = form.exec(text);
  return m ? Date.parse(`${m[1]}T${m[2]}${m[3] ?? ':00'}${m[5]!.toUpperCase()}`) : NaN;
}

export function formatInstant(ms: number, offset: number): string {
  const local = new Date(ms + offset * 60_000).toISOString().slice(0, -1);
  const two = (n: number) => String(n).padStart(2, '0');
  const away = Math.abs(offset);
  return `${local}${offset < 0 ? '-' : '+'}${two(Math.floor(away / 60))}:${two(away % 60)}`;
}

/** The time of a new entry: what the clock says, but after every entry before it. */
export function nextAt(clock: Clock, latest: number): string {
  const now = Math.max(clock.now(), appBegan, latest + 1);
  return formatInstant(now, clock.offset(now));
}

/** Earlier times for entries ahead of `now`, by id, in the same order among themselves and towards the rest.
    An own entry's raw clock is taken where it fits. Entries at one time stay at one time, because for the
    core that is a contradiction and not an order. */
export function drawnBack(
  records: readonly LogRecord[],
  at: (record: LogRecord) => number,
  now: number,
): Map<string, number> {
  const moved = new Map<string, number>();
  const ordinary = Math.max(...records.map(at).filter((t) => t <= now), -Infinity);
  const byTime = new Map<number, LogRecord[]>();
  for (const record of records) {
    const t = at(record);
    if (!Number.isNaN(t)) byTime.set(t, [...(byTime.get(t) ?? []), record]);
  }
  let limit = now;
  for (const [t, group] of [...byTime].sort((a, b) => b[0] - a[0])) {
    if (t <= limit) break;
    const raw = Math.min(...group.map((r) => (r.own ? Date.parse(r.noted) : Infinity)));
    const to = raw > ordinary && raw < limit ? raw : limit;
    for (const record of group) moved.set(record.entry.id, to);
    limit = to - 1;
  }
  return moved;
}
