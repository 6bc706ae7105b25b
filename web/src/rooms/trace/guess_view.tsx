// One file's layout as it was guessed, for a person to confirm: what stays open first, then each column with its
// first values, then how it is written.
import { Button, Choice, Disclosure, Notice } from '../../parts/parts';
import type { TraceLayout, TraceQuestion as Question, TraceWhat } from '../../engine/use_cases';
import { bytesText, say, type Key } from '../../words/words';
import { worded } from '../handy/problems';
import { elapsedUnits, standingAnswer } from './layout';
import { answer, change, remove, sayingSigns, setTime, type Guess, type Opened } from './opened';
import { Pick } from './pick';

const separators = ['comma', 'semicolon', 'tab', 'bar', 'blanks'] as const;
const signs = ['point', 'comma'] as const;

const signWord = (of: string) => say(`trace.sign_${of}` as Key);

/** More than a thumb wants to look through stand in the column's own list instead. */
const few = 2;
/** A guess less sure than this asks to be looked at: one in five would be wrong. Our estimate. */
const sureEnough = 0.8;

function Asked({ file, layout, questions }: { file: Opened; layout: TraceLayout; questions: Question[] }) {
  return (
    <>
      {questions.map((q) => (
        <div class="question" data-name={`question:${q.key}`} key={`${q.key}${q.column}${q.sensor}`}>
          <Choice
            legend={q.text}
            value={standingAnswer(layout, q)}
            options={q.options}
            onChoose={(v) => answer(file.id, q, v)}
          />
        </div>
      ))}
    </>
  );
}

/** The first rows as they stand in the file. */
function Rows({ guess, layout }: { guess: Guess; layout: TraceLayout }) {
  const headed = layout.columns.some((c) => c.header);
  return (
    <div class="rows" tabIndex={0} role="region" aria-label={say('trace.first_rows')}>
      <table>
        {headed && (
          <thead>
            <tr>
              {layout.columns.map((c, i) => (
                <th key={i} scope="col">
                  {c.header || i + 1}
                </th>
              ))}
            </tr>
          </thead>
        )}
        <tbody>
          {guess.preview.slice(0, 3).map((row, i) => (
            <tr key={i}>
              {layout.columns.map((_, c) => (
                <td key={c}>{row[c] ?? ''}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

interface Kind {
  what: TraceWhat;
  unit?: string;
  confidence?: number;
  why?: string;
}

function Column({
  file,
  guess,
  layout,
  name,
  values,
  kind,
  place,
}: {
  file: Opened;
  guess: Guess;
  layout: TraceLayout;
  name: string;
  values: string;
  kind: Kind;
  place: { column: number; sensor?: string };
}) {
  const choice = guess.choices.columns.find((c) => c.value === kind.what);
  const units = choice?.units ?? [];
  const unit = kind.unit ?? '';
  const offered = unit && units.length > 0 && !units.includes(unit) ? [unit, ...units] : units;
  const questions = guess.questions.filter((q) =>
    place.sensor === undefined ? q.column === place.column && q.sensor === null : q.sensor === place.sensor,
  );
  const many = questions.find((q) => q.options.length > few);
  const unsure = questions.length > 0 || ((kind.confidence ?? 1) < sureEnough && kind.what !== 'comment');
  const id = place.sensor ?? place.column;
  return (
    <li class={`column${unsure ? ' unsure' : ''}`} data-name={`column:${id}`}>
      <p class="headed">
        <strong data-own-words>{name}</strong>
        <span class="quiet small values" data-own-words>
          {values}
        </span>
      </p>
      {many && <p class="asks">{many.text}</p>}
      <div class={`picks${offered.length > 0 ? ' two' : ''}`}>
        <Pick
          label={say('trace.is')}
          said={say('trace.is_of', { name })}
          value={kind.what}
          options={guess.choices.columns}
          onPick={(what) => change(file.id, { ...place, what: what as TraceWhat })}
          name={`what:${id}`}
        />
        {offered.length > 0 && (
          <Pick
            label={say('trace.unit')}
            said={say('trace.unit_of', { name })}
            value={unit}
            options={offered.map((u) => ({ value: u, label: u }))}
            onPick={(u) => change(file.id, { ...place, unit: u })}
            name={`unit:${id}`}
          />
        )}
      </div>
      <Asked {...{ file, layout }} questions={questions.filter((q) => q !== many)} />
      {kind.why && questions.length === 0 && (
        <p class="small quiet">{say(unsure ? 'trace.guessed_unsure' : 'trace.guessed', { why: kind.why })}</p>
      )}
    </li>
  );
}

function Written({ file, guess, layout }: { file: Opened; guess: Guess | null; layout: TraceLayout | null }) {
  const time = layout?.time;
  return (
    <div class="picks">
      <Pick
        label={say('trace.parted_by')}
        value={layout?.separator ?? file.signs.separator ?? 'comma'}
        options={separators.map((s) => ({ value: s, label: say(`trace.separator_${s}`) }))}
        onPick={(s) => void sayingSigns(file.id, { separator: s as TraceLayout['separator'] })}
        name="separator"
      />
      <Pick
        label={say('trace.decimals')}
        value={layout?.decimal ?? file.signs.decimal ?? 'point'}
        options={signs.map((s) => ({ value: s, label: signWord(s) }))}
        onPick={(s) => void sayingSigns(file.id, { decimal: s as TraceLayout['decimal'] })}
        name="decimal"
      />
      {time && guess && (
        <Pick
          label={say('trace.time_written')}
          value={time.form}
          options={guess.choices.time_forms}
          onPick={(form) => setTime(file.id, { ...time, form: form as typeof time.form })}
          name="time-form"
        />
      )}
      {time && (time.form === 'elapsed' || time.form === 'epoch') && (
        <Pick
          label={say('trace.counts_in')}
          value={String(
            Object.entries(elapsedUnits).find(([, s]) => s === time.seconds_per_unit)?.[0] ?? 's',
          )}
          options={Object.keys(elapsedUnits).map((u) => ({ value: u, label: u }))}
          onPick={(u) => setTime(file.id, { ...time, seconds_per_unit: elapsedUnits[u]! })}
          name="time-unit"
        />
      )}
    </div>
  );
}

function Columns({ file, guess, layout }: { file: Opened; guess: Guess; layout: TraceLayout }) {
  const rows = guess.preview.slice(0, 3);
  return (
    <ul class="columns">
      {layout.columns.map((c, i) => (
        <Column
          key={i}
          {...{ file, guess, layout }}
          name={c.header || say('trace.column_n', { n: i + 1 })}
          values={rows.map((r) => r[i] ?? '').join(' · ')}
          kind={c}
          place={{ column: i }}
        />
      ))}
      {layout.sensors?.map((s) => (
        <Column
          key={s.name}
          {...{ file, guess, layout }}
          name={s.name}
          values=""
          kind={s}
          place={{ column: -1, sensor: s.name }}
        />
      ))}
    </ul>
  );
}

export function GuessView({ file }: { file: Opened }) {
  const { guess, layout, problem } = file;
  const form = guess?.choices.time_forms.find((f) => f.value === layout?.time.form)?.label;
  return (
    <section class="panel guess" aria-label={file.file.name} data-name={`file:${file.file.name}`}>
      <div class="top">
        <h2 data-own-words>{file.file.name}</h2>
        <span class="quiet small">{bytesText(file.file.size)}</span>
        <Button
          icon="trash"
          kind="bare"
          label={say('trace.remove', { name: file.file.name })}
          onPress={() => remove(file.id)}
          name="remove-file"
        />
      </div>
      {!guess && !problem && <p class="quiet">{say('shell.working')}</p>}
      {problem && (
        <>
          <Notice tone="bad">
            <p>{say('trace.no_trace', { name: file.file.name })}</p>
            <p class="small">{problem.field === 'unreadable' ? problem.why : worded(problem)}</p>
            <p class="small">{say('trace.nothing_lost')}</p>
          </Notice>
          <Disclosure summary={say('trace.try_signs')}>
            <Written {...{ file, guess, layout }} />
          </Disclosure>
        </>
      )}
      {guess && layout && !problem && (
        <>
          <Rows {...{ guess, layout }} />
          <Asked
            {...{ file, layout }}
            questions={guess.questions.filter((q) => q.column === null && q.sensor === null)}
          />
          <Columns {...{ file, guess, layout }} />
          <Disclosure
            summary={
              <span>
                {say('trace.written', {
                  separator: say(`trace.separator_${layout.separator}`),
                  decimal: signWord(layout.decimal),
                  time: form ?? '',
                })}
              </span>
            }
          >
            <Written {...{ file, guess, layout }} />
          </Disclosure>
        </>
      )}
    </section>
  );
}
