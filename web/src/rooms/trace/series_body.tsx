// A series typed by hand: one reading, each value stamped with the moment of the tap, all of them readings of the
// call as any other. The plot grows beside them; three values can be asked what they say.
import { useEffect, useMemo, useState } from 'preact/hooks';
import { ProblemError, type Problem, type TraceAnswer } from '../../engine/engine';
import { Keypad } from '../../parts/keypad';
import { split, spokenWith, unfinished, withoutUnit } from '../../parts/keypad_text';
import { Button, Field, Notice, Sheet } from '../../parts/parts';
import { useNow } from '../../parts/use_now';
import { Icon } from '../../parts/icon';
import { app } from '../../shell/app';
import { prefs } from '../../shell/prefs';
import type { Entry, OpenCall } from '../../store/store';
import { number, say, sayCount } from '../../words/words';
import { contentOf, readingsOf, withdrawal } from '../call/read/fold';
import { HeardAs } from '../call/read/heard_as';
import { siteOf } from '../call/read/site';
import { numberOf, plain, traceOf } from '../call/read/trace';
import { useUnderstood } from '../call/read/understood';
import { unitsOf, useVocabulary, type ReadingWord } from '../call/read/vocabulary';
import { atTimeOfDay, timeOfDay } from '../call/repair/clock_text';
import { worded } from '../handy/problems';
import { AnswerView } from './answer_view';
import { Pick } from './pick';
import { PlotView } from './plot_view';
import { asWritten, fileOf, moved, stepOf, traceWord, unitAsWritten } from './typed';
import { laneOf } from './window';
import './trace.css';

/** One value again: what it said and when it was. */
function Correct({ call, entry, onClose }: { call: OpenCall; entry: Entry; onClose: () => void }) {
  const at = Date.parse(entry.at);
  const value = app.store.draft(`${call.id}.correct.${entry.id}`);
  const time = app.store.draft(`${call.id}.correct.${entry.id}.time`);
  const said = value.value || String(entry.value);
  const [when, late] = [
    time.value ? atTimeOfDay(time.value, at, Date.now()) : at,
    time.value ? atTimeOfDay(time.value, at, Infinity) : at,
  ];
  const close = () => {
    value.value = time.value = '';
    onClose();
  };
  return (
    <Sheet title={say('trace.correct')} onClose={close}>
      <Field
        label={say('trace.value')}
        value={said}
        numeric
        onInput={(t) => (value.value = t)}
        name="series-value"
      />
      <Field
        label={say('trace.time')}
        value={time.value || timeOfDay(at)}
        numeric
        onInput={(t) => (time.value = t)}
        problem={when === null ? say(late === null ? 'trace.no_time' : 'trace.time_to_come') : null}
        name="series-time"
      />
      <Button
        kind="main"
        wide
        disabled={when === null || numberOf(split(said).figure) === null}
        onPress={() => {
          void call.add({
            ...contentOf(entry),
            value: spokenWith(said, split(String(entry.value)).unit),
            at: new Date(when!).toISOString(),
            replaces: entry.id,
          });
          close();
        }}
        name="series-save"
      >
        {say('call.save')}
      </Button>
      <Button
        wide
        icon="trash"
        onPress={() => {
          void call.add(withdrawal(entry));
          close();
        }}
      >
        {say('trace.withdraw')}
      </Button>
    </Sheet>
  );
}

function Stamp({ call, reading, last }: { call: OpenCall; reading: ReadingWord; last: Entry | undefined }) {
  const words = useVocabulary();
  const now = useNow(500); // that the tap stamps
  const system = prefs.units.value;
  const kind = reading.quantity;
  const text = app.store.draft(`${call.id}.series.${reading.word}`);
  const remembered = app.store.draft(`unit.${kind}..${system}`);
  const units = unitsOf(words, kind, system);
  const unit = units.includes(remembered.value) ? remembered.value : (units[0] ?? '');
  const site = siteOf(call.standing.value);
  const { heard, problem, busy } = useUnderstood(text.value, kind, unit, site);
  const stamp = (value: string) =>
    void call.add({ kind: 'reading', what: reading.word, value, at: new Date().toISOString() });
  const save = () => {
    stamp(heard?.text ?? spokenWith(text.value, unit));
    text.value = '';
  };
  const before = last && split(String(last.value));
  const base = numberOf(split(text.value).figure) ?? (before ? numberOf(before.figure) : null);
  const step = stepOf(split(text.value).unit || before?.unit || unit);
  const nudge = (by: number) =>
    base !== null && (text.value = `${moved(base, by)} ${split(text.value).unit || before?.unit || unit}`);
  return (
    <div class="stamping">
      {last && base !== null && (
        <div class="nudge" role="group" aria-label={say('trace.from_last')}>
          <Button onPress={() => nudge(-step)} name="series-less" label={say('trace.less', { step })}>
            −{number(step)}
          </Button>
          <Button onPress={() => stamp(String(last.value))} name="series-same">
            {say('trace.same', { value: asWritten(String(last.value)) })}
          </Button>
          <Button onPress={() => nudge(step)} name="series-more" label={say('trace.greater', { step })}>
            +{number(step)}
          </Button>
        </div>
      )}
      <Keypad
        label={reading.label}
        text={text.value}
        onText={(t) => (text.value = t)}
        units={units}
        unit={unit}
        onUnit={(u) => {
          remembered.value = u;
          text.value = withoutUnit(text.value);
        }}
        withOpen={kind === 'resistance'}
        understood={heard && <HeardAs {...{ heard, words, kind }} />}
        problem={
          problem
            ? say('call.problem', { given: problem.given, allowed: problem.allowed, why: problem.why })
            : null
        }
        onSave={save}
        canSave={!unfinished(text.value) && !busy && heard !== null}
        saveText={say('trace.stamp', { time: timeOfDay(now) })}
      />
    </div>
  );
}

/** What the series says, once it is asked. */
function Says({ list, reading }: { list: readonly Entry[]; reading: ReadingWord }) {
  const [answer, setAnswer] = useState<TraceAnswer | null>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  const trace = traceOf(list);
  const what = traceWord(reading.word);
  const key = JSON.stringify([list.map((e) => e.id), prefs.language.value, prefs.units.value]);
  useEffect(() => {
    setAnswer(null);
    setProblem(null);
  }, [key]);
  if (!trace || trace.points.length < 3 || !what) return null;
  const ask = async () => {
    const { text, layout } = fileOf(trace, what);
    try {
      setAnswer(await app.engine.ask('trace', { files: [{ name: reading.label, text, layout }] }));
    } catch (error) {
      if (!(error instanceof ProblemError)) throw error;
      setProblem(error.problem);
    }
  };
  if (answer) return <AnswerView answer={answer} dots />;
  return (
    <>
      {problem && <Notice tone="bad">{worded(problem)}</Notice>}
      <Button wide icon="scales" onPress={() => void ask()} name="series-says">
        {say('trace.says')}
      </Button>
    </>
  );
}

export function SeriesBody({ call }: { call: OpenCall }) {
  const words = useVocabulary();
  const chosen = app.store.draft(`${call.id}.series`);
  const [correct, setCorrect] = useState<Entry | null>(null);
  const standing = call.standing.value;
  const what = words?.readings.some((r) => r.word === chosen.value) ? chosen.value : 'suction_line_temp';
  const list = useMemo(() => readingsOf(standing).get(what) ?? [], [standing, what]);
  // What was taken in another unit than the last stands in the list; nothing is converted behind one's back.
  const alike = useMemo(() => {
    const unit = plain(split(String(list.at(-1)?.value ?? '')).unit);
    return list.filter((e) => plain(split(String(e.value)).unit) === unit);
  }, [list]);
  const drawn = useMemo(() => {
    const trace = traceOf(alike);
    if (!trace) return null;
    const first = trace.points[0]!.at;
    const offset = new Date(first * 1000).getTimezoneOffset() * 60;
    return {
      lanes: [
        {
          label: '',
          unit: unitAsWritten(trace.unit),
          lane: laneOf(trace.points.map((p) => [p.at - first, p.value, p.value])),
        },
      ],
      start: first - offset,
      whole: Math.max(1, trace.points.at(-1)!.at - first),
    };
  }, [alike]);
  const none = useMemo(() => [], []);
  if (!words) return <p class="quiet">{say('shell.working')}</p>;
  const reading = words.readings.find((r) => r.word === what) ?? words.readings[0]!;
  return (
    <div class="trace-room series stack">
      <Pick
        label={say('trace.which_reading')}
        value={reading.word}
        options={words.readings.map((r) => ({ value: r.word, label: r.label }))}
        onPick={(w) => (chosen.value = w)}
        name="series-what"
      />
      <p class="small quiet">{reading.place}</p>
      {(reading.opens_circuit || reading.hazard_text) && (
        <p class="hazard small">
          <Icon name="warn" />{' '}
          <span>
            {reading.opens_circuit && say('call.opens')} {reading.hazard_text}
          </span>
        </p>
      )}
      <Stamp key={reading.word} call={call} reading={reading} last={list.at(-1)} />
      {drawn && <PlotView lanes={drawn.lanes} start={drawn.start} whole={drawn.whole} bands={none} dots />}
      {list.length > 0 && (
        <section class="stack" aria-label={say('call.taken')}>
          <h2>{sayCount('trace.values', list.length)}</h2>
          <ol class="stamped">
            {list.toReversed().map((e) => (
              <li key={e.id}>
                <button type="button" class="finding" onClick={() => setCorrect(e)} data-name="stamped">
                  <span class="number when">{timeOfDay(Date.parse(e.at))}</span>
                  <strong class="number">{asWritten(String(e.value))}</strong>
                  <span class="spoken">{say('trace.correct')}</span>
                </button>
              </li>
            ))}
          </ol>
        </section>
      )}
      {alike.length < list.length && <p class="quiet">{say('call.trace_units')}</p>}
      <Says list={alike} reading={reading} />
      {correct && <Correct call={call} entry={correct} onClose={() => setCorrect(null)} />}
    </div>
  );
}
