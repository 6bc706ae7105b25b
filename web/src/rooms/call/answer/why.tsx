// Why: the physics of the leading answer in sentences, what fits ill, and what each finding did. A finding leads
// to the place where it can be corrected.
import { Disclosure, Notice } from '../../../parts/parts';
import { href } from '../../../shell/route';
import { say, sayCount } from '../../../words/words';
import type { Answer } from '../live_answer';
import { wanted, type Wanted } from '../wanted';
import { shareText } from './group';
import { IntervalPicture, Mark } from './interval_picture';
import { rangeOf } from './range';
import { RestsLink } from './rests_on';
import { pull, pullText } from './weigh';

export type Finding = Answer['evidence'][number];

/** A link to the stage where this is taken, which opens at that place. */
export function toTake(callId: string, what: Wanted) {
  return {
    href: href({ room: 'call', id: callId, stage: what.kind === 'reading' ? 'read' : 'look' }),
    onClick: () => {
      wanted.value = what;
    },
  };
}

const offWord = { below: 'answer.low', above: 'answer.high' } as const;

function FindingRow({ finding, callId, doubted }: { finding: Finding; callId: string; doubted: boolean }) {
  const told = pullText(pull(finding.log_odds));
  const where = finding.kind === 'reading' ? finding.against_sound : 'unknown';
  const sound = finding.kind === 'reading' ? finding.expected_if_sound : null;
  return (
    <li>
      <a
        class="finding"
        data-name={`finding-${finding.subject}`}
        {...toTake(callId, { kind: finding.kind, subject: finding.subject, entry: finding.id })}
      >
        <span class="named">
          <span>{finding.label}</span>
          <span class="given">
            {finding.kind === 'reading' ? (
              <>
                {(where === 'below' || where === 'above') && (
                  <span class="off">
                    <Mark against={where} /> {say(offWord[where])}
                  </span>
                )}
                <strong class="number">{finding.given.text}</strong>
              </>
            ) : (
              <strong>{finding.value_label}</strong>
            )}
          </span>
        </span>
        {finding.kind === 'reading' && sound && (
          <>
            <IntervalPicture
              bands={[{ ...rangeOf(sound), look: 'sound' }]}
              value={finding.given.si ?? undefined}
              against={where}
            />
            <span class="small">{say('answer.sound_shows', { range: sound.text })}</span>
          </>
        )}
        <span class="small quiet">
          {told}
          {doubted && ` · ${say('answer.doubted')}`}
        </span>
      </a>
    </li>
  );
}

export function Why({ answer, callId }: { answer: Answer; callId: string }) {
  const doubted = new Set(answer.suspects.map((s) => s.id));
  const strongest = [...answer.evidence].sort((a, b) => Math.abs(b.log_odds) - Math.abs(a.log_odds));
  const telling = strongest.filter((f) => pull(f.log_odds).way !== 'neither' || doubted.has(f.id));
  const silent = strongest.filter((f) => !telling.includes(f));
  const row = (f: Finding) => (
    <FindingRow key={f.id + f.subject} finding={f} callId={callId} doubted={doubted.has(f.id)} />
  );
  return (
    <section class="stack" aria-label={say('answer.why')}>
      <h2>{say('answer.why')}</h2>
      <ul class="reasons stack">
        {answer.reasons.map((r) => (
          <li key={r.key + r.text}>{r.text}</li>
        ))}
      </ul>
      {answer.suspects.map((s) => (
        <Notice key={s.id + s.reading} tone="warn">
          <p>{s.text}</p>
          <p>{say('answer.mistaken', { chance: shareText(s.probability_mistaken) })}</p>
          <a class="button" {...toTake(callId, { kind: 'reading', subject: s.reading, entry: s.id })}>
            {say('answer.read_again')}
          </a>
        </Notice>
      ))}
      {answer.evidence.length > 0 && (
        <>
          <h3>{say('answer.findings')}</h3>
          <p class="small quiet">{say('answer.findings_note')}</p>
          <RestsLink part="bits" />
          <ul class="findings">{telling.map(row)}</ul>
          {silent.length > 0 && (
            <Disclosure summary={sayCount('answer.silent', silent.length)}>
              <ul class="findings">{silent.map(row)}</ul>
            </Disclosure>
          )}
        </>
      )}
    </section>
  );
}
