// What the typed text is taken for, below the keys: in both systems, and what the unit key that is down doesn't say.
import { bothWays, type Understood } from './understood';
import type { Vocabulary } from './vocabulary';

export function HeardAs({
  heard,
  words,
  kind,
}: {
  heard: NonNullable<Understood['heard']>;
  words: Vocabulary | null;
  kind: string;
}) {
  return (
    <>
      <strong class="number">{bothWays(heard, words, kind).join(' = ')}</strong>
      {(heard.against_assumed ? heard.remarks : []).map((r) => (
        <p class="small quiet" key={r.text}>
          {r.text}
        </p>
      ))}
    </>
  );
}
