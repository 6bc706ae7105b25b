// Read: the drawing of the machine as the place to tap, below it the readings taken.
import { useEffect, useState } from 'preact/hooks';
import { Button, Notice, Sheet } from '../../../parts/parts';
import { Icon } from '../../../parts/icon';
import { href } from '../../../shell/route';
import type { Entry, OpenCall } from '../../../store/store';
import { say, sayCount } from '../../../words/words';
import { ToSeries } from '../../trace/taken_traces';
import { liveAnswer } from '../live_answer';
import { wanted } from '../wanted';
import { AmountSheet } from './amount_sheet';
import { cabinetOf, condenserOf } from './condenser';
import { Drawing, drawnParts, textOf, type Line, type Spot } from './drawing';
import { intervalOf, useExpected, type Expected } from './expected';
import { against, changeField, fieldsOf, readingsOf } from './fold';
import { Mark } from './mark';
import { ReadingSheet } from './reading_sheet';
import { siteOf } from './site';
import { Taken } from './taken';
import { useVocabulary, type ReadingWord, type Vocabulary } from './vocabulary';
import './read.css';

type Open =
  | { as: 'part'; spot: Spot }
  | { as: 'reading'; what: string; correct: Entry | null }
  | { as: 'site'; field: 'box' | 'ambient' };
type Evidence = { id: string; given: { si: number | null; text: string } | string | null };

/** The value as the core words it in the units in use, once it has weighed it; until then as it was said. */
function lineOf(
  word: ReadingWord,
  entry: Entry | undefined,
  expected: Expected | null,
  weighed: readonly Evidence[],
): Line {
  const interval = intervalOf(expected, word.word);
  const given = entry && weighed.find((e) => e.id === entry.id)?.given;
  const amount = given && typeof given === 'object' ? given : null;
  const [low, high] = [interval?.low.si, interval?.high.si];
  return {
    what: word.word,
    label: word.label,
    actual: amount?.text ?? textOf(entry, 'value'),
    expected: interval?.text ?? null,
    is:
      typeof amount?.si === 'number' && typeof low === 'number' && typeof high === 'number'
        ? against(amount.si, low, high)
        : null,
  };
}

function spotsOf(
  words: Vocabulary,
  lines: ReadonlyMap<string, Line>,
  standing: readonly Entry[],
  expected: Expected | null,
): Spot[] {
  const site = fieldsOf(standing, 'site');
  return drawnParts.map((part): Spot => {
    if (part === 'box' || part === 'ambient') {
      const label = say(`call.field_${part}`);
      const actual = expected?.now[part].text ?? textOf(site.get(part), part);
      const line: Line = {
        what: part,
        label,
        actual: site.has(part) ? actual : null,
        expected: null,
        is: null,
      };
      return { part, label, lines: [line], only: part, name: `site:${part}` };
    }
    const here = words.readings
      .filter((r) => r.part === part)
      .sort((a, b) => Number(a.opens_circuit) - Number(b.opens_circuit));
    return {
      part,
      label: words.parts.find((p) => p.word === part)?.label ?? part,
      lines: here.map((r) => lines.get(r.word)!),
      only: here.length === 1 ? here[0]!.word : null,
      name: here.length === 1 ? `reading:${here[0]!.word}` : `part:${part}`,
    };
  });
}

function PartSheet({
  spot,
  words,
  onChoose,
  onClose,
}: {
  spot: Spot;
  words: Vocabulary;
  onChoose: (what: string) => void;
  onClose: () => void;
}) {
  return (
    <Sheet title={spot.label} onClose={onClose}>
      <ul class="stack">
        {spot.lines.map((l) => {
          const word = words.readings.find((r) => r.word === l.what)!;
          return (
            <li key={l.what}>
              <button
                type="button"
                class="reading-choice"
                data-name={`reading:${l.what}`}
                onClick={() => onChoose(l.what)}
              >
                <span class="label">{l.label}</span>
                <strong class="number actual">
                  {l.is && <Mark is={l.is} />} {l.actual}
                </strong>
                <span class="small quiet">
                  {l.expected && say('call.sound_range', { range: l.expected })}
                </span>
                <span class="small quiet">
                  {sayCount('call.minutes', Math.max(1, Math.round(word.minutes)))}
                </span>
                {word.opens_circuit && (
                  <span class="hazard small">
                    <Icon name="warn" /> {say('call.opens')}
                  </span>
                )}
              </button>
            </li>
          );
        })}
      </ul>
    </Sheet>
  );
}

export function ReadStage({ call }: { call: OpenCall }) {
  const words = useVocabulary();
  const { answer: expected, problem } = useExpected(call);
  const live = liveAnswer(call).value;
  const [open, setOpen] = useState<Open | null>(null);
  useEffect(() => {
    if (wanted.value?.kind !== 'reading') return;
    const what = wanted.value.subject;
    wanted.value = null;
    setOpen({ as: 'reading', what, correct: null });
  }, []);
  if (!words) return <p class="quiet">{say('shell.working')}</p>;

  const standing = call.standing.value;
  const readings = readingsOf(standing);
  const cabinet = cabinetOf(standing, words);
  const weighed = (live.answer?.evidence ?? []) as readonly Evidence[];
  const lines = new Map(
    words.readings.map((r) => [r.word, lineOf(r, readings.get(r.word)?.at(-1), expected, weighed)]),
  );
  const wrong = problem ?? live.problem;
  const close = () => setOpen(null);
  const reading = open?.as === 'reading' ? words.readings.find((r) => r.word === open.what) : undefined;
  const taken = words.readings.filter((r) => readings.has(r.word));

  return (
    <>
      {!cabinet ? (
        <Notice tone="warn">
          <p>{say('call.read_needs_cabinet')}</p>
          <Button href={href({ room: 'call', id: call.id, stage: 'unit' })}>{say('call.unit')}</Button>
        </Notice>
      ) : (
        wrong && (
          <Notice tone="bad">
            {say('call.problem_at', {
              field: wrong.field,
              given: wrong.given,
              allowed: wrong.allowed,
              why: wrong.why,
            })}
          </Notice>
        )
      )}
      <p class="quiet small">{say(expected ? 'call.read_how' : 'call.read_how_bare')}</p>
      <Drawing
        condenser={condenserOf(standing, words)}
        evaporatorFan={cabinet?.word !== 'still_air_refrigerator'}
        list={spotsOf(words, lines, standing, expected)}
        onTap={(spot) => {
          if (spot.only === 'box' || spot.only === 'ambient') setOpen({ as: 'site', field: spot.only });
          else if (spot.only) setOpen({ as: 'reading', what: spot.only, correct: null });
          else setOpen({ as: 'part', spot });
        }}
      />
      <section class="stack" aria-label={say('call.taken')}>
        <h2>{say('call.taken')}</h2>
        {taken.length === 0 && <p class="quiet">{say('call.none_taken')}</p>}
        <ul class="taken-list">
          {taken.map((r) => (
            <Taken
              key={r.word}
              call={call}
              line={lines.get(r.word)!}
              list={readings.get(r.word)!}
              onCorrect={(entry) => setOpen({ as: 'reading', what: r.word, correct: entry })}
              onAgain={() => setOpen({ as: 'reading', what: r.word, correct: null })}
            />
          ))}
        </ul>
      </section>
      <ToSeries call={call} />
      <Button kind="main" wide href={href({ room: 'call', id: call.id, stage: 'answer' })} name="to-answer">
        {say('call.on_to', { stage: say('call.answer') })}
      </Button>
      {open?.as === 'part' && (
        <PartSheet
          spot={open.spot}
          words={words}
          onChoose={(what) => setOpen({ as: 'reading', what, correct: null })}
          onClose={close}
        />
      )}
      {open?.as === 'reading' && reading && (
        <ReadingSheet
          key={open.what + (open.correct?.id ?? '')}
          call={call}
          reading={reading}
          correct={open.correct}
          expected={lines.get(open.what)?.expected ?? null}
          onClose={close}
        />
      )}
      {open?.as === 'site' && (
        <AmountSheet
          title={say(`call.field_${open.field}`)}
          kind="temperature"
          draft={`${call.id}.${open.field}`}
          site={siteOf(standing)}
          onClose={close}
          onSave={(text) => {
            for (const entry of changeField(call.standing.peek(), 'site', open.field, text))
              void call.add(entry);
            close();
          }}
        >
          <p class="quiet small">{say(`call.hint_${open.field}`)}</p>
        </AmountSheet>
      )}
    </>
  );
}
