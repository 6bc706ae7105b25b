// What every number on the screen rests on: how it was reckoned, from how much, and the publications.
import { citation } from '../../../parts/citation';
import { Disclosure } from '../../../parts/parts';
import { number, say, sayCount } from '../../../words/words';
import type { Answer } from '../live_answer';

export type Part = 'percent' | 'ranges' | 'bits' | 'next';
const idOf = (part: Part) => `rests-on-${part}`;

/** Opens what the numbers of a section rest on. */
export function RestsLink({ part }: { part: Part }) {
  const open = () => {
    const place = document.getElementById(idOf(part));
    const details = place?.closest('details');
    if (!place || !details) return;
    details.open = true;
    place.scrollIntoView({ block: 'center' });
    place.focus({ preventScroll: true });
  };
  return (
    <button type="button" class="rests-link" data-name={`rests-${part}`} onClick={open}>
      {say('answer.rests_link')}
    </button>
  );
}

const whole = (n: number) => number(Math.round(n), 0);

export function RestsOn({ answer }: { answer: Answer }) {
  const { quality, about, causes } = answer;
  const lead = causes[0];
  return (
    <Disclosure summary={say('answer.rests')}>
      <p>{say('answer.model')}</p>
      <dl class="rests">
        <div id={idOf('percent')} tabIndex={-1}>
          <dt>{say('answer.of_percent')}</dt>
          <dd>
            {say('answer.of_percent_how')}
            {lead &&
              ` ${say('answer.lead_exactly', {
                label: lead.label,
                percent: number(100 * lead.probability, 1),
                error: number(100 * lead.error, 1),
              })}`}
          </dd>
        </div>
        <div id={idOf('ranges')} tabIndex={-1}>
          <dt>{say('answer.of_ranges')}</dt>
          <dd>{say('answer.of_ranges_how')}</dd>
        </div>
        <div id={idOf('bits')} tabIndex={-1}>
          <dt>{say('answer.of_bits')}</dt>
          <dd>{say('answer.of_bits_how')}</dd>
        </div>
        <div id={idOf('next')} tabIndex={-1}>
          <dt>{say('answer.of_next')}</dt>
          <dd>{say('answer.of_next_how')}</dd>
        </div>
        <div>
          <dt>{say('answer.machines')}</dt>
          <dd>
            {sayCount('answer.machines_reckoned', quality.solves)}{' '}
            {sayCount('answer.machines_unsolved', quality.unsolved)}{' '}
            {say('answer.machines_counting', {
              n: whole(quality.effective_sample_size),
              least: whole(quality.smallest_effective_size),
            })}
          </dd>
        </div>
        <div>
          <dt>{say('answer.program')}</dt>
          <dd>
            {say('answer.program_line', {
              version: about.version,
              data: about.data,
              seed: String(about.seed ?? ''),
            })}
          </dd>
        </div>
      </dl>
      <h3>{say('answer.sources')}</h3>
      <ul class="reasons stack small">
        {about.references.map((r) => (
          <li key={r.key} class="citation">
            {citation(r)}
          </li>
        ))}
      </ul>
    </Disclosure>
  );
}
