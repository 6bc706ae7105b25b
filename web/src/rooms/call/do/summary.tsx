// The call on paper: machine, what was found and read, what was concluded and how far to trust it, with date,
// program, data and sources. Printed from the stage "do"; do.css leaves everything else off the sheet.
import { citation } from '../../../parts/citation';
import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import type { Entry, OpenCall } from '../../../store/store';
import { moment, say, sayCount } from '../../../words/words';
import { grouped } from '../answer/group';
import { pull, pullText } from '../answer/weigh';
import type { Answer, Live } from '../live_answer';

function Facts({ facts }: { facts: readonly (readonly [string, ComponentChildren])[] }) {
  return (
    <dl class="plate">
      {facts.map(([name, value]) =>
        value ? (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ) : null,
      )}
    </dl>
  );
}

/** A text off the plate, which the diagnosis doesn't carry: the last one entered. */
function plated(entries: readonly Entry[], field: string): string {
  const values = entries.filter((e) => e.kind === 'nameplate').map((e) => e[field]);
  return values.filter((v): v is string => typeof v === 'string' && v !== '').at(-1) ?? '';
}

function Machine({ answer, entries }: { answer: Answer; entries: readonly Entry[] }) {
  const { call } = answer;
  return (
    <section>
      <h3>{say('answer.sum_machine')}</h3>
      <Facts
        facts={[
          [say('answer.sum_cabinet'), call.cabinet_label],
          [say('answer.sum_maker'), plated(entries, 'maker')],
          [say('answer.sum_model'), plated(entries, 'model')],
          [say('answer.sum_serial'), plated(entries, 'serial')],
          [
            say('answer.sum_refrigerant'),
            call.safety_class ? `${call.refrigerant} (${call.safety_class})` : call.refrigerant,
          ],
          [say('answer.sum_charge'), call.charge?.text],
          [say('answer.sum_ambient'), call.ambient?.text],
          [say('answer.sum_box'), call.box?.text],
          [say('answer.sum_air'), call.site_pressure.text],
        ]}
      />
    </section>
  );
}

function Found({ answer }: { answer: Answer }) {
  return (
    <section>
      <h3>{say('answer.sum_found')}</h3>
      <table class="found">
        <thead>
          <tr>
            <th scope="col">{say('answer.sum_what')}</th>
            <th scope="col">{say('answer.sum_given')}</th>
            <th scope="col">{say('answer.sum_sound')}</th>
            <th scope="col">{say('answer.sum_weight')}</th>
          </tr>
        </thead>
        <tbody>
          {answer.evidence.map((f) => (
            <tr key={f.id + f.subject}>
              <th scope="row">{f.label}</th>
              <td>{f.kind === 'reading' ? f.given.text : f.value_label}</td>
              <td data-column={say('answer.sound')}>
                {f.kind === 'reading' && f.expected_if_sound?.text}
                {f.kind === 'reading' && f.against_sound === 'below' && `, ${say('answer.low')}`}
                {f.kind === 'reading' && f.against_sound === 'above' && `, ${say('answer.high')}`}
              </td>
              <td>{pullText(pull(f.log_odds))}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {answer.suspects.map((s) => (
        <p key={s.id + s.reading}>{s.text}</p>
      ))}
    </section>
  );
}

function Concluded({ answer, live }: { answer: Answer; live: Live }) {
  const { lead, others, rest, restText } = grouped(answer.causes);
  return (
    <section>
      <h3>{say('answer.sum_concluded')}</h3>
      {live.stale && <p>{say('answer.sum_stale')}</p>}
      {!live.grown?.final && <p>{say('answer.sum_rough')}</p>}
      {!answer.quality.trustworthy && <p>{say('answer.untrustworthy')}</p>}
      <table>
        <thead>
          <tr>
            <th scope="col">{say('answer.sum_cause')}</th>
            <th scope="col">{say('answer.sum_likely')}</th>
          </tr>
        </thead>
        <tbody>
          {[lead, ...others].map(
            (c) =>
              c && (
                <tr key={c.cause}>
                  <th scope="row">
                    {c.label}
                    {c.severity_text && <div>{say('answer.if_so', { severity: c.severity_text })}</div>}
                  </th>
                  <td>
                    {c.probability_text}, {c.in_words}
                  </td>
                </tr>
              ),
          )}
          {rest.length > 0 && (
            <tr>
              <th scope="row">{sayCount('answer.others_together', rest.length)}</th>
              <td>{restText}</td>
            </tr>
          )}
        </tbody>
      </table>
      <ul>
        {answer.reasons.map((r) => (
          <li key={r.key + r.text}>{r.text}</li>
        ))}
      </ul>
    </section>
  );
}

function Trust({ answer }: { answer: Answer }) {
  const { about, quality } = answer;
  return (
    <section>
      <h3>{say('answer.sum_trust')}</h3>
      {[...quality.remarks, ...answer.remarks].map((r) => (
        <p key={r.key + r.text}>{r.text}</p>
      ))}
      <p>
        {sayCount('answer.machines_reckoned', quality.solves)}{' '}
        {say('answer.machines_counting', {
          n: Math.round(quality.effective_sample_size),
          least: Math.round(quality.smallest_effective_size),
        })}
      </p>
      <p>{say('answer.do_left_right')}</p>
      <p>{say('answer.do_left_law')}</p>
      <ul>
        {answer.cautions.map((c) => (
          <li key={c.key + c.text}>{c.text}</li>
        ))}
      </ul>
      <h3>{say('answer.sources')}</h3>
      <ul class="publications">
        {about.references.map((r) => (
          <li key={r.key} class="citation">
            {citation(r)}
          </li>
        ))}
      </ul>
      <p>
        {say('answer.program_line', {
          version: about.version,
          data: about.data,
          seed: String(about.seed ?? ''),
        })}
      </p>
    </section>
  );
}

/** When it was printed: told anew at that moment, however long the page has been open. */
function Printed() {
  const place = useRef<HTMLSpanElement>(null);
  const text = () => say('answer.sum_printed', { when: moment(new Date().toISOString()) });
  useEffect(() => {
    const now = () => {
      if (place.current) place.current.textContent = text();
    };
    addEventListener('beforeprint', now);
    return () => removeEventListener('beforeprint', now);
  }, []);
  return <span ref={place}>{text()}</span>;
}

export function Summary({ call, live }: { call: OpenCall; live: Live }) {
  const entries = call.standing.value;
  const times = entries.map((e) => e.at).sort();
  const notes = entries.filter((e) => e.kind === 'note' && typeof e.text === 'string' && !e.replaces);
  const { answer } = live;
  return (
    <article class="summary">
      <header>
        <h2>{call.name.value}</h2>
        <p>
          <Printed />
          {times.length > 0 &&
            `. ${say('answer.sum_first_last', { first: moment(times[0]!), last: moment(times.at(-1)!) })}`}
        </p>
      </header>
      {answer ? (
        <>
          <Concluded answer={answer} live={live} />
          <Machine answer={answer} entries={entries} />
          <Found answer={answer} />
        </>
      ) : (
        <p>{say('answer.do_no_answer')}</p>
      )}
      {notes.length > 0 && (
        <section>
          <h3>{say('answer.sum_notes')}</h3>
          <ul>
            {notes.map((n) => (
              <li key={n.id}>{String(n.text)}</li>
            ))}
          </ul>
        </section>
      )}
      {answer && answer.next.length > 0 && (
        <section>
          <h3>{say('answer.sum_next')}</h3>
          <ul>
            {answer.next.slice(0, 3).map((s) => (
              <li key={s.subject}>
                {s.label}
                {s.hazard_text && `: ${s.hazard_text}`}
              </li>
            ))}
          </ul>
        </section>
      )}
      {answer && <Trust answer={answer} />}
    </article>
  );
}
