// What there is to choose from, in the core's words: cabinets, refrigerants, things seen, readings, units.
import type { UseCases } from '../../../engine/engine';
import { useOnce } from './ask_once';

export type Vocabulary = UseCases['vocabulary']['answer'];
export type ReadingWord = Vocabulary['readings'][number];
export type Cabinet = Vocabulary['cabinets'][number];

export function useVocabulary(): Vocabulary | null {
  return useOnce<Vocabulary>('vocabulary', {}).answer;
}

/** The units to tap for a kind of quantity, those of the system in use first. */
export function unitsOf(words: Vocabulary | null, kind: string, system: 'us' | 'metric'): string[] {
  const row = words?.quantities.find((q) => q.word === kind);
  return row ? [...row.units[system]] : [];
}
