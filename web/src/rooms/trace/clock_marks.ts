// Times on the plot's axis: the logger's own clock where the file has dates, else the time since it began.

/** Steps between marks, s. */
export const steps = [
  ...[1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 10800, 21600, 43200],
  ...[1, 2, 7, 14, 28, 91, 364].map((days) => days * 86400),
];

/** "0:07:30" where the step is of seconds, else "12:30 h", which nobody takes for minutes: hours go on past a day, as
    with a stopwatch. */
export function sinceStart(s: number, step: number): string {
  const whole = Math.round(Math.abs(s));
  const two = (n: number) => String(n).padStart(2, '0');
  const [h, m, sec] = [Math.floor(whole / 3600), Math.floor((whole % 3600) / 60), whole % 60];
  return `${s < 0 ? '-' : ''}${h}:${two(m)}${step < 60 ? `:${two(sec)}` : '\u00a0h'}`;
}

/** Words of the marks at `at`; a day's name stands below the first mark of each day. Not `dated`: s since the start. */
export function markTexts(at: readonly number[], step: number, dated: boolean, language: string): string[] {
  if (!dated) return at.map((t) => sinceStart(t, step));
  const format = (options: Intl.DateTimeFormatOptions) => {
    const made = new Intl.DateTimeFormat(language, { ...options, timeZone: 'UTC' });
    return (t: number) => made.format(t * 1000);
  };
  const day = format({ day: 'numeric', month: 'short' });
  if (step >= 86400) return at.map(day);
  const clock = format({
    hour: '2-digit',
    minute: '2-digit',
    ...(step < 60 ? { second: '2-digit' as const } : {}),
    hourCycle: 'h23',
  });
  return at.map((t, i) => {
    const before = at[i - 1];
    return before === undefined || day(before) !== day(t) ? `${clock(t)}\n${day(t)}` : clock(t);
  });
}

/** One moment in full, as the readout says it. */
export function momentText(t: number, start: number | null, language: string): string {
  if (start === null) return sinceStart(t, 1);
  return new Intl.DateTimeFormat(language, {
    ...{ day: 'numeric', month: 'short', hour: '2-digit', minute: '2-digit', second: '2-digit' },
    ...{ hourCycle: 'h23', timeZone: 'UTC' },
  }).format((start + t) * 1000);
}
