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

const most = 60;
const asked = new Map<string, Promise<Told<unknown>>>();

function ask(key: string, name: string, request: object): Promise<Told<unknown>> {
  let told = asked.get(key);
  if (told) return told;
  told = app.engine.ask(name as UseCaseName, request as never).then(
    (answer): Told<unknown> => ({ answer, problem: null }),
    (error: unknown) => {
      if (error instanceof ProblemError) return { answer: null, problem: error.problem };
      asked.delete(key);
      throw error;
    },
  );
  asked.set(key, told);
  if (asked.size > most) asked.delete(asked.keys().next().value!);
  return told;
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
    const begin = () =>
      void ask(key, name, request).then((told) => left || set({ key, told: told as Told<T> }));
    const timer = setTimeout(begin, asked.has(key) ? 0 : delayMs);
    return () => {
      left = true;
      clearTimeout(timer);
    };
  }, [key]);
  return { ...state.told, busy: key !== state.key };
}
