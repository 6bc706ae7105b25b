// What the core takes a typed text for: the strict text for the call's file, and the amount in both systems.
import type { Problem } from '../../../engine/engine';
import { unfinished } from '../../../parts/keypad_text';
import { useOnce } from './ask_once';
import { plain } from './trace';
import { unitsOf, type Vocabulary } from './vocabulary';

interface Amount {
  si: number | null;
  value: number | null;
  unit: string;
  text: string;
}
interface Heard {
  text: string;
  value: Amount;
  open: boolean;
  against_assumed: boolean;
  same: Amount[];
  remarks: { text: string }[];
}
export interface Understood {
  heard: Heard | null;
  problem: Problem | null;
  busy: boolean;
}

/** The air a gauge here reads against, if the site says so. */
export type Site = { altitude?: string; barometer?: string };

export function useUnderstood(text: string, kind: string, unit: string, site: Site): Understood {
  const request = unfinished(text)
    ? null
    : {
        kind: kind === 'duration' ? 'time' : kind,
        text,
        ...(unit ? { default_unit: unit } : {}),
        ...(kind === 'pressure' ? site : {}),
      };
  const { answer, problem, busy } = useOnce<Heard>('quantity', request, 60);
  return { heard: request ? answer : null, problem: request ? problem : null, busy: !!request && busy };
}

/** The same amount in the first unit of each system, each said once. */
export function bothWays(heard: Heard, words: Vocabulary | null, kind: string): string[] {
  if (heard.open) return [heard.value.text];
  const texts = [heard.value.text];
  const own = plain(heard.value.unit);
  for (const system of ['us', 'metric'] as const) {
    const wanted = plain(unitsOf(words, kind, system)[0] ?? '');
    const found = heard.same.find((a) => plain(a.unit) === wanted);
    if (found && plain(found.unit) !== own && !texts.includes(found.text)) texts.push(found.text);
  }
  return texts;
}
