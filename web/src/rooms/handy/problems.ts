// A problem stands at the field it concerns, in the core's words; what no field of the screen is to blame for
// stands under the answer.
import { useEffect, useState } from 'preact/hooks';
import type { Problem } from '../../engine/engine';
import { say } from '../../words/words';

export function worded(problem: Problem): string {
  return say('handy.problem', { given: problem.given, allowed: problem.allowed, why: problem.why });
}

/** "at" and "at[0]" are the field "at". */
export function concerns(problem: Problem | null, field: string): boolean {
  return problem !== null && (problem.field === field || problem.field.startsWith(`${field}[`));
}

/** The problem once it has stood for a moment: a number half typed is no mistake yet. */
export function useStanding(problem: Problem | null, afterMs = 700): Problem | null {
  const [shown, show] = useState<Problem | null>(null);
  const text = problem?.text;
  useEffect(() => {
    if (!problem) {
      show(null);
      return;
    }
    const timer = setTimeout(() => show(problem), afterMs);
    return () => clearTimeout(timer);
  }, [text]);
  return problem && shown;
}
