// Asks the core while a person types: the latest question counts, an older one is cancelled.
import { useEffect, useRef, useState } from 'preact/hooks';
import { ProblemError, type Problem, type UseCaseName, type UseCases } from '../engine/engine';
import { app } from './app';
import { prefs } from './prefs';

export interface Asked<T> {
  answer: T | null; // the last one, kept while a newer question is on its way
  problem: Problem | null;
  busy: boolean;
}

/** `request` null asks nothing. Asked again when the request, language or units change. */
export function useAsk<N extends UseCaseName>(
  name: N,
  request: UseCases[N]['request'] | null,
  delayMs = 0,
): Asked<UseCases[N]['answer']> {
  const [state, set] = useState<Asked<UseCases[N]['answer']>>({ answer: null, problem: null, busy: false });
  const key = request && JSON.stringify([name, request, prefs.language.value, prefs.units.value]);
  const first = useRef(true);
  useEffect(() => {
    if (!key || !request) {
      set({ answer: null, problem: null, busy: false });
      return;
    }
    const stop = new AbortController();
    const ask = () => {
      set((old) => ({ ...old, busy: true }));
      app.engine.ask(name, request, { signal: stop.signal }).then(
        (answer) => stop.signal.aborted || set({ answer, problem: null, busy: false }),
        (error: unknown) => {
          if (stop.signal.aborted) return;
          if (!(error instanceof ProblemError)) throw error;
          set({ answer: null, problem: error.problem, busy: false });
        },
      );
    };
    const timer = setTimeout(ask, first.current ? 0 : delayMs);
    first.current = false;
    return () => {
      clearTimeout(timer);
      stop.abort();
    };
  }, [key]);
  return state;
}
