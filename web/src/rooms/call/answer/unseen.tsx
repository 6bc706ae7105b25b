// What nobody measured, as ranges: here above, a sound machine below, on one scale.
import { say } from '../../../words/words';
import type { Answer } from '../live_answer';
import { IntervalPicture } from './interval_picture';
import { rangeOf } from './range';
import { RestsLink } from './rests_on';

export function Unseen({ answer }: { answer: Answer }) {
  if (answer.unseen.length === 0) return null;
  return (
    <section class="stack" aria-label={say('answer.unseen')}>
      <h2>{say('answer.unseen')}</h2>
      <p class="small quiet">{say('answer.unseen_note')}</p>
      <RestsLink part="ranges" />
      <ul class="unseen">
        {answer.unseen.map((u) => (
          <li key={u.quantity}>
            <h3>{u.label}</h3>
            <IntervalPicture
              bands={[
                { ...rangeOf(u.interval), look: 'here' },
                ...(u.sound ? [{ ...rangeOf(u.sound), look: 'sound' as const }] : []),
              ]}
            />
            <dl>
              <div>
                <dt>{say('answer.here')}</dt>
                <dd class="number">{u.interval.text}</dd>
              </div>
              {u.sound && (
                <div>
                  <dt>{say('answer.sound')}</dt>
                  <dd class="number">{u.sound.text}</dd>
                </div>
              )}
            </dl>
          </li>
        ))}
      </ul>
    </section>
  );
}
