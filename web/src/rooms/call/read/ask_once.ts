// Questions whose answer several parts of the screen show: asked once, kept by what was asked and how it is
// to be worded.
import { useEffect, useState } from 'preact/hooks';
import { ProblemError, type Problem, type UseCaseName } from '../../../engine/engine';
import { app } from '../../../shell/app';
import { prefs } from '../../../shell/prefs';

export interface Told<T> {
  answer: T | null;
  problem: Problem | null;
}

interface Asked {
  told: Promise<Told<unknown>>;
  stop: AbortController;
  settled: boolean;
  waiting: number; // parts of the screen that wait for it
}

const most = 60;
const asked = new Map<string, Asked>();

function ask(key: string, name: string, request: object): Asked {
  const known = asked.get(key);
  if (known) return known;
  const stop = new AbortController();
  const told = app.engine.ask(name as UseCaseName, request as never, { signal: stop.signal }).then(
    (answer): Told<unknown> => ({ answer, problem: null }),
    (error: unknown) => {
      if (error instanceof ProblemError) return { answer: null, problem: error.problem };
      if (asked.get(key) === mine) asked.delete(key);
      throw error;
    },
  );
  const mine: Asked = { told, stop, settled: false, waiting: 0 };
  void told.then(
    () => (mine.settled = true),
    () => (mine.settled = true),
  );
  asked.set(key, mine);
  if (asked.size > most) asked.delete(asked.keys().next().value!);
  return mine;
}

/** What nobody waits for any more is not reckoned to its end: a plate typed field by field asks many times. */
function leave(key: string, mine: Asked): void {
  if (--mine.waiting > 0 || mine.settled) return;
  if (asked.get(key) === mine) asked.delete(key);
  mine.stop.abort();
}

/** The answer to `request`, or null while it is on its way; `request` null asks nothing. The last answer stays
    while the next is reckoned. */
export function useOnce<T>(name: string, request: object | null, delayMs = 0): Told<T> & { busy: boolean } {
  const key = request && JSON.stringify([name, request, prefs.language.value, prefs.units.value]);
  const [state, set] = useState<{ key: string | null; told: Told<T> }>({
    key: null,
    told: { answer: null, problem: null },
  });
  useEffect(() => {
    if (!key || !request) return set({ key: null, told: { answer: null, problem: null } });
    let left = false;
    let mine: Asked | null = null;
    const begin = () => {
      mine = ask(key, name, request);
      mine.waiting += 1;
      mine.told.then(
        (told) => left || set({ key, told: told as Told<T> }),
        (error: unknown) => {
          if (!left) throw error;
        },
      );
    };
    const timer = setTimeout(begin, asked.has(key) ? 0 : delayMs);
    return () => {
      left = true;
      clearTimeout(timer);
      if (mine) leave(key, mine);
    };
  }, [key]);
  return { ...state.told, busy: key !== state.key };
}
