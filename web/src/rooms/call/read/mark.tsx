// Off or not, by shape and word: a triangle up, a triangle down, a ring.
import { say } from '../../../words/words';
import type { Against } from './fold';

const shapes: Record<Against, string> = {
  above: 'M8 2l7 12H1z',
  below: 'M8 14L1 2h14z',
  within: 'M8 2a6 6 0 1 0 0 12A6 6 0 1 0 8 2',
};
export function Mark({ is, word }: { is: Against; word?: boolean }) {
  return (
    <span class={`mark-off ${is}`}>
      <svg viewBox="0 0 16 16" aria-hidden="true">
        <path d={shapes[is]} />
      </svg>
      <span class={word ? undefined : 'spoken'}>{say(`call.${is}`)}</span>
    </span>
  );
}
