// What was set for a procedure's run: `procedure` entries folded, and the entry that changes one of them.
import type { Entry, NewEntry } from '../../../store/store';
import { withdrawal } from '../read/fold';

const runOf = (entry: Entry) => (typeof entry.run === 'number' ? entry.run : 1);
const mine = (entry: Entry, kind: string, procedure: string, run: number) =>
  entry.kind === kind && entry.procedure === procedure && runOf(entry) === run;
const withOf = (entry: Entry | undefined) => {
  const found = entry?.with;
  return found !== null && typeof found === 'object' ? (found as Record<string, unknown>) : {};
};

/** Each setting with its text, the later over the earlier, as the core folds them. */
export function settingsOf(standing: readonly Entry[], procedure: string, run: number): Map<string, string> {
  const settings = new Map<string, string>();
  for (const entry of standing
    .filter((e) => mine(e, 'procedure', procedure, run))
    .sort((a, b) => Date.parse(a.at) - Date.parse(b.at)))
    for (const [key, text] of Object.entries(withOf(entry))) settings.set(key, String(text));
  return settings;
}

/** The entries that make `key` say `text`, or nothing when it is empty; none when it says so already. One entry
    holds a run's settings; entries of other devices that hold some of them too give way to it. */
export function settingChange(
  standing: readonly Entry[],
  procedure: string,
  run: number,
  key: string,
  text: string,
): NewEntry[] {
  const settings = settingsOf(standing, procedure, run);
  if ((settings.get(key) ?? '') === text) return [];
  const former = standing
    .filter((e) => mine(e, 'procedure', procedure, run))
    .sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
  if (text) settings.set(key, text);
  else settings.delete(key);
  const last = former.at(-1);
  const others = former.slice(0, -1).filter((e) => text === '' && withOf(e)[key] !== undefined);
  const whole: NewEntry = {
    kind: 'procedure',
    procedure,
    run,
    with: Object.fromEntries(settings),
    ...(last ? { replaces: last.id } : {}),
  };
  const change = settings.size === 0 && last ? withdrawal(last) : whole;
  return [...others.map(withdrawal), change];
}

/** The numbers of the runs there are, the present one last; a procedure not begun has run 1. */
export function runsOf(standing: readonly Entry[], procedure: string): number[] {
  const runs = new Set(
    standing
      .filter((e) => (e.kind === 'procedure' || e.kind === 'test_reading') && e.procedure === procedure)
      .map(runOf),
  );
  return runs.size === 0 ? [1] : [...runs].sort((a, b) => a - b);
}

/** The readings of one run, the oldest first. */
export function readingsOfRun(standing: readonly Entry[], procedure: string, run: number): Entry[] {
  return standing
    .filter((e) => mine(e, 'test_reading', procedure, run))
    .sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
}

/** What the same setting was given elsewhere in this call, the latest: another procedure's volume is this one's
    too, more often than not. */
export function saidElsewhere(
  standing: readonly Entry[],
  procedure: string,
  run: number,
  key: string,
): { procedure: string; text: string } | null {
  const others = standing
    .filter(
      (e) => e.kind === 'procedure' && !mine(e, 'procedure', procedure, run) && withOf(e)[key] !== undefined,
    )
    .sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
  const last = others.at(-1);
  return last ? { procedure: String(last.procedure), text: String(withOf(last)[key]) } : null;
}
