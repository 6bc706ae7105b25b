// Times of a running test: how long it has been, and when a reading was taken, as it is written and typed.

/** "0:07", "12:30", "1:05:00". */
export function elapsed(ms: number): string {
  const seconds = Math.max(0, Math.floor(ms / 1000));
  const two = (n: number) => String(n).padStart(2, '0');
  const [h, m, s] = [Math.floor(seconds / 3600), Math.floor((seconds % 3600) / 60), seconds % 60];
  return h > 0 ? `${h}:${two(m)}:${two(s)}` : `${m}:${two(s)}`;
}

/** An instant as a field of the kind time has it, "14:03:20", where the reader is. */
export function timeOfDay(ms: number): string {
  const at = new Date(ms);
  return [at.getHours(), at.getMinutes(), at.getSeconds()].map((n) => String(n).padStart(2, '0')).join(':');
}

/** The instant nearest to `near` at which the clock shows `time`; not later than `latest`. Null for no time. */
export function atTimeOfDay(time: string, near: number, latest: number): number | null {
  const m = /^(\d{1,2}):(\d\d)(?::(\d\d))?/.exec(time);
  if (!m || Number(m[1]) > 23 || Number(m[2]) > 59 || Number(m[3] ?? 0) > 59) return null;
  const day = (offset: number) => {
    const at = new Date(near);
    at.setDate(at.getDate() + offset);
    at.setHours(Number(m[1]), Number(m[2]), Number(m[3] ?? 0), 0);
    return at.getTime();
  };
  const candidates = [day(-1), day(0), day(1)].filter((t) => t <= latest);
  return candidates.reduce<number | null>(
    (best, t) => (best === null || Math.abs(t - near) < Math.abs(best - near) ? t : best),
    null,
  );
}
