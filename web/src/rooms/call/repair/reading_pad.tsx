// One reading of a running test: the tap that opens it has stamped the time; the values follow on the keys, one
// after the other. What is typed and the stamp are drafts until the reading is taken down.
import { Keypad } from '../../../parts/keypad';
import { spokenWith, unfinished, withoutUnit } from '../../../parts/keypad_text';
import { Button, Sheet } from '../../../parts/parts';
import { app } from '../../../shell/app';
import { prefs } from '../../../shell/prefs';
import type { Entry, OpenCall } from '../../../store/store';
import { say, type Key } from '../../../words/words';
import { HeardAs } from '../read/heard_as';
import { siteOf } from '../read/site';
import { useUnderstood } from '../read/understood';
import { unitsOf, useVocabulary } from '../read/vocabulary';
import { atTimeOfDay, elapsed, timeOfDay } from './clock_text';
import type { ReadingPart } from './procedures';

/** Drafts of the reading that is being typed: its values, the active one, its time. */
export function padDrafts(call: OpenCall, procedure: string, run: number, correct: Entry | null) {
  const base = `${call.id}.test.${procedure}.${run}.${correct?.id ?? 'new'}`;
  return {
    stamp: app.store.draft(`${base}.at`),
    active: app.store.draft(`${base}.part`),
    of: (part: string) => app.store.draft(`${base}.${part}`),
  };
}

function unitsFor(part: ReadingPart, system: 'us' | 'metric', usual: string[]): string[] {
  const vacuum = { us: ['micron', 'Torr', 'mbar'], metric: ['mbar', 'Pa', 'micron', 'Torr'] };
  return part.vacuum ? vacuum[system] : usual.slice(0, 3);
}

export function ReadingPad({
  call,
  procedure,
  run,
  parts,
  correct,
  began,
  onClose,
}: {
  call: OpenCall;
  procedure: string;
  run: number;
  parts: readonly ReadingPart[];
  /** The reading that is corrected; null for a new one. */
  correct: Entry | null;
  /** When the first reading of the run was taken, ms; null before there is one. */
  began: number | null;
  onClose: () => void;
}) {
  const words = useVocabulary();
  const system = prefs.units.value;
  const drafts = padDrafts(call, procedure, run, correct);
  const texts = parts.map((p) => drafts.of(p.key));
  const told = (part: ReadingPart) => {
    const draft = drafts.of(part.key).value;
    return (
      (unfinished(draft) ? '' : draft) || (correct?.[part.key] === undefined ? '' : String(correct[part.key]))
    );
  };
  const activeKey = parts.some((p) => p.key === drafts.active.value) ? drafts.active.value : parts[0]!.key;
  const part = parts.find((p) => p.key === activeKey)!;
  const text = drafts.of(part.key);
  const kind = part.kind;
  const units = unitsFor(part, system, unitsOf(words, kind, system));
  const remembered = app.store.draft(`unit.test.${part.vacuum ? 'vacuum' : kind}.${system}`);
  const unit = units.includes(remembered.value) ? remembered.value : (units[0] ?? '');
  const { heard, problem, busy } = useUnderstood(text.value, kind, unit, siteOf(call.standing.value));
  const at = Number(drafts.stamp.value) || (correct ? Date.parse(correct.at) : Date.now());
  const label = (p: ReadingPart) => say(`repair.reading_${p.label ?? p.key}` as Key);

  const close = () => {
    for (const draft of [...texts, drafts.stamp, drafts.active]) draft.value = '';
    onClose();
  };
  const strict = () => (unfinished(text.value) ? '' : (heard?.text ?? spokenWith(text.value, unit)));
  const keep = () => {
    const said = strict();
    if (said) text.value = said;
  };
  /** With every value typed so far; the others of a correction stay as they were. */
  const takeDown = () => {
    const values: Record<string, string> = {};
    for (const p of parts) {
      const said = p === part ? strict() || told(p) : told(p);
      if (said) values[p.key] = said;
    }
    void call.add({
      kind: 'test_reading',
      procedure,
      run,
      at: new Date(at).toISOString(),
      ...values,
      ...(correct ? { replaces: correct.id } : {}),
    });
    close();
  };
  const later = parts.slice(parts.indexOf(part) + 1);
  const next = later.find((p) => told(p) === '') ?? null;
  const enough = parts.every((p) => p.optional || p === part || told(p) !== '');
  const typed = !unfinished(text.value);
  const canSave = typed ? !busy && heard !== null : correct !== null && enough;
  const shift = (ms: number) => {
    const wanted = Math.min(at + ms, Date.now());
    drafts.stamp.value = String(wanted);
  };
  return (
    <Sheet title={say(correct ? 'repair.correct_reading' : 'repair.new_reading')} onClose={close}>
      <div class="stamp">
        <label class="small" for="reading-time">
          {say('repair.read_at')}
          {began !== null && at >= began && ` · ${say('repair.since_start', { time: elapsed(at - began) })}`}
        </label>
        <div class="stamp-row">
          <Button
            icon="minus"
            label={say('repair.minute_less')}
            onPress={() => shift(-60_000)}
            name="time-less"
          />
          <input
            id="reading-time"
            type="time"
            step="1"
            value={timeOfDay(at)}
            data-name="reading-time"
            onChange={(e) => {
              const wanted = atTimeOfDay(e.currentTarget.value, at, Date.now());
              if (wanted !== null) drafts.stamp.value = String(wanted);
              else e.currentTarget.value = timeOfDay(at);
            }}
          />
          <Button
            icon="plus"
            label={say('repair.minute_more')}
            onPress={() => shift(60_000)}
            name="time-more"
          />
        </div>
      </div>
      {parts.length > 1 && (
        <div class="pad-parts" role="group" aria-label={say('repair.values')}>
          {parts.map((p) => (
            <button
              key={p.key}
              type="button"
              class="pad-part"
              aria-pressed={p === part}
              data-name={`part:${p.key}`}
              onClick={() => {
                keep();
                drafts.active.value = p.key;
              }}
            >
              <span class="small">{label(p)}</span>
              <strong class="number">{told(p) || '–'}</strong>
            </button>
          ))}
        </div>
      )}
      <Keypad
        key={part.key}
        label={label(part)}
        text={text.value}
        onText={(t) => (text.value = t)}
        units={units}
        unit={unit}
        onUnit={(u) => {
          remembered.value = u;
          text.value = withoutUnit(text.value);
        }}
        withFractions={kind === 'mass'}
        understood={heard && <HeardAs {...{ heard, words, kind }} />}
        problem={
          problem
            ? say('call.problem', { given: problem.given, allowed: problem.allowed, why: problem.why })
            : null
        }
        onSave={() => {
          if (!next || correct) return takeDown();
          keep();
          drafts.active.value = next.key;
        }}
        canSave={canSave}
        saveText={next && !correct ? say('repair.next_value', { what: label(next) }) : undefined}
      />
      {next && !correct && typed && enough && later.every((p) => p.optional || told(p) !== '') && (
        <Button wide disabled={!canSave} onPress={takeDown} name="save-now">
          {say('repair.save_without', { what: label(next) })}
        </Button>
      )}
      {busy && <span class="spoken">{say('shell.working')}</span>}
    </Sheet>
  );
}
