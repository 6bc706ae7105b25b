// What there is to choose from, in the core's words: cabinets, refrigerants, things seen, readings, units.
import { useEffect, useMemo } from 'preact/hooks';
import type { UseCases } from '../../../engine/engine';
import { prefs } from '../../../shell/prefs';
import { useOnce } from './ask_once';

export type Vocabulary = UseCases['vocabulary']['answer'];
export type ReadingWord = Vocabulary['readings'][number];
export type Cabinet = Vocabulary['cabinets'][number];

const kept = (language: string) => `coldwright.vocabulary.${language}`;

/** As the last page knew it: the screen is there while the core still loads, and the core's own answer follows. */
function remembered(language: string): Vocabulary | null {
  try {
    const found = JSON.parse(localStorage.getItem(kept(language)) ?? 'null') as Vocabulary | null;
    return found?.language === language ? found : null;
  } catch {
    return null; // refused or damaged: the core answers anyway
  }
}

export function useVocabulary(): Vocabulary | null {
  const language = prefs.language.value;
  const before = useMemo(() => remembered(language), [language]);
  const { answer } = useOnce<Vocabulary>('vocabulary', {});
  const fresh = answer?.language === language ? answer : null;
  useEffect(() => {
    if (!fresh) return;
    try {
      localStorage.setItem(kept(language), JSON.stringify(fresh));
    } catch {
      // full or refused: the next page waits for the core
    }
  }, [fresh]);
  return fresh ?? before;
}

/** The units to tap for a kind of quantity, those of the system in use first. */
export function unitsOf(words: Vocabulary | null, kind: string, system: 'us' | 'metric'): string[] {
  const row = words?.quantities.find((q) => q.word === kind);
  return row ? [...row.units[system]] : [];
}
