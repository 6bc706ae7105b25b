// The readings of a running test: the clock, the one button that stamps the time, the list with correction and
// withdrawal. Every reading is an entry at once.
import { useState } from 'preact/hooks';
import type { Problem } from '../../../engine/engine';
import { Icon } from '../../../parts/icon';
import { Button, Disclosure } from '../../../parts/parts';
import { useNow } from '../../../parts/use_now';
import type { Entry, OpenCall } from '../../../store/store';
import { moment, say, sayCount } from '../../../words/words';
import { worded } from '../../handy/problems';
import { withdrawal } from '../read/fold';
import { elapsed, timeOfDay } from './clock_text';
import type { Procedure } from './procedures';
import { padDrafts, ReadingPad } from './reading_pad';
import { readingsOfRun } from './settings';

/** Runs on from the first reading; read aloud only when asked for. */
function Elapsed({ began, last }: { began: number; last: number }) {
  const now = useNow(1000);
  // A test of days ago doesn't go on counting.
  const running = now - last < 12 * 3600_000;
  return (
    <p class="elapsed">
      <span class="small quiet">{say(running ? 'repair.running' : 'repair.ran')}</span>
      <strong class="number" data-name="elapsed">
        {elapsed((running ? now : last) - began)}
      </strong>
    </p>
  );
}

/** Which reading, counted from 1, a problem is about: "reading 3, pressure". */
export function readingOf(problem: Problem | null): number | null {
  const m = /^reading (\d+)/.exec(problem?.field ?? '');
  return m ? Number(m[1]) : null;
}

function ReadingRow({
  entry,
  place,
  began,
  procedure,
  wrong,
  onCorrect,
  onWithdraw,
}: {
  entry: Entry;
  place: number;
  began: number;
  procedure: Procedure;
  wrong: boolean;
  onCorrect: () => void;
  onWithdraw: () => void;
}) {
  const at = Date.parse(entry.at);
  const values = (procedure.readings ?? []).flatMap((p) =>
    entry[p.key] === undefined ? [] : [String(entry[p.key])],
  );
  return (
    <li class={wrong ? 'wrong' : undefined} data-name={`reading:${place}`}>
      <button type="button" class="reading" onClick={onCorrect}>
        <span class="small quiet">
          {elapsed(at - began)} · {timeOfDay(at)}
        </span>
        <strong class="number">{values.join(' · ')}</strong>
        <span class="spoken">{say('call.correct', { what: moment(entry.at) })}</span>
      </button>
      {wrong && (
        <span class="problem small">
          <Icon name="warn" />
        </span>
      )}
      <Button
        icon="trash"
        kind="bare"
        label={say('call.withdraw', { what: `${values.join(', ')}, ${moment(entry.at)}` })}
        onPress={onWithdraw}
        name={`withdraw-reading:${place}`}
      />
    </li>
  );
}

export function TestReadings({
  call,
  procedure,
  run,
  problem,
}: {
  call: OpenCall;
  procedure: Procedure;
  run: number;
  problem: Problem | null;
}) {
  const readings = readingsOfRun(call.standing.value, procedure.name, run);
  const [correcting, setCorrecting] = useState<Entry | null>(null);
  const fresh = padDrafts(call, procedure.name, run, null);
  // A reading that was being typed when the page went away is taken up again.
  const open = fresh.stamp.value !== '';
  const began = readings.length > 0 ? Date.parse(readings[0]!.at) : null;
  const wrong = readingOf(problem);
  const rows = readings.map((e, i) => (
    <ReadingRow
      key={e.id}
      entry={e}
      place={i + 1}
      began={began!}
      procedure={procedure}
      wrong={wrong === i + 1}
      onCorrect={() => setCorrecting(e)}
      onWithdraw={() => void call.add(withdrawal(e))}
    />
  ));
  const shown = 4;
  return (
    <section class="stack readings" aria-label={say('repair.readings')}>
      {began !== null && <Elapsed began={began} last={Date.parse(readings.at(-1)!.at)} />}
      <Button
        kind="main"
        wide
        icon="gauge"
        onPress={() => (fresh.stamp.value = String(Date.now()))}
        name="read-now"
      >
        {say(began === null ? 'repair.begin_reading' : 'repair.read_now')}
      </Button>
      <p class="small quiet">{say('repair.stamp_note')}</p>
      {wrong !== null && problem && (
        <div class="notice warn" data-name="asked-reading">
          <Icon name="warn" />
          <div class="stack">
            <p>{worded(problem)}</p>
            {readings[wrong - 1] && (
              <Button onPress={() => setCorrecting(readings[wrong - 1]!)} name="correct-asked">
                {say('repair.correct_reading')}
              </Button>
            )}
          </div>
        </div>
      )}
      <ul class="reading-list">{rows.slice(-shown).reverse()}</ul>
      {rows.length > shown && (
        <Disclosure summary={sayCount('repair.earlier', rows.length - shown)}>
          <ul class="reading-list">{rows.slice(0, -shown).reverse()}</ul>
        </Disclosure>
      )}
      {open && (
        <ReadingPad
          call={call}
          procedure={procedure.name}
          run={run}
          parts={procedure.readings!}
          correct={null}
          began={began}
          onClose={() => {}}
        />
      )}
      {correcting && (
        <ReadingPad
          key={correcting.id}
          call={call}
          procedure={procedure.name}
          run={run}
          parts={procedure.readings!}
          correct={correcting}
          began={began}
          onClose={() => setCorrecting(null)}
        />
      )}
    </section>
  );
}
