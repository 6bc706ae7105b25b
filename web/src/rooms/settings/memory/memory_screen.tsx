// What was learned from finished calls: looked through, corrected, forgotten and asked back, taken along as a file.
import { useRef, useState } from 'preact/hooks';
import { ProblemError } from '../../../engine/engine';
import { download } from '../../../parts/hand_over';
import { Button, Disclosure, Field, Notice, Sheet } from '../../../parts/parts';
import { app } from '../../../shell/app';
import { Frame } from '../../../shell/frame';
import { say } from '../../../words/words';
import { RestsOn } from '../../handy/tool';
import { worded } from '../../handy/problems';
import { FigureRow, TableView } from '../../call/repair/answer_view';
import type { Figure, Told } from '../../call/repair/answer_types';
import { useOnce } from '../../call/read/ask_once';
import {
  bringMemory,
  byUnit,
  changeMemory,
  memoryRequest,
  nameOf,
  quantityOf,
  takeBack,
  type Change,
  type MemoryAnswer,
} from './learned';
import '../../handy/handy.css';
import '../../call/repair/repair.css';

interface Done {
  said: readonly Told[];
  before: string | null;
  after: string | null;
}

/** Changes the memory and says what came of it, with the way back. */
function useChanges() {
  const [done, setDone] = useState<Done | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const attempt = async (work: () => Promise<readonly Told[]>) => {
    const before = app.store.memory.peek();
    try {
      const said = await work();
      setDone({ said, before, after: app.store.memory.peek() });
      setProblem(null);
    } catch (error) {
      if (error instanceof SyntaxError) setProblem(say('settings.memory_unreadable'));
      else if (error instanceof ProblemError) setProblem(worded(error.problem));
      else throw error;
    }
  };
  const change = (what: Change) => attempt(() => changeMemory(what));
  const bring = (file: File) =>
    attempt(async () => {
      await bringMemory(await file.text());
      return [];
    });
  const back = async () => {
    if (done) await takeBack(done.before, done.after);
    setDone(null);
  };
  return { done, problem, change, bring, back };
}

function CorrectSheet({
  unit,
  figure,
  onSave,
  onClose,
}: {
  unit: string;
  figure: Figure;
  onSave: (value: string) => void;
  onClose: () => void;
}) {
  const text = app.store.draft(`memory.${unit}.${figure.key}`);
  return (
    <Sheet title={figure.label} onClose={onClose}>
      <p>
        <span data-own-words>{unit}</span>: {figure.text}
      </p>
      <Field
        label={say('settings.memory_value')}
        value={text.value}
        onInput={(t) => (text.value = t)}
        hint={say('settings.memory_value_hint', { unit: figure.value?.unit ?? '' })}
        name="memory-value"
      />
      <Button
        kind="main"
        wide
        disabled={!text.value.trim()}
        onPress={() => {
          onSave(text.value.trim());
          text.value = '';
        }}
        name="memory-save"
      >
        {say('settings.memory_correct')}
      </Button>
    </Sheet>
  );
}

function Unit({
  unit,
  figures,
  answer,
  change,
}: {
  unit: string;
  figures: readonly Figure[];
  answer: MemoryAnswer;
  change: (what: Change) => Promise<void>;
}) {
  const [correcting, setCorrecting] = useState<Figure | null>(null);
  const calls = answer.memory.calls.filter((c) => c.unit === unit);
  return (
    <section class="stack panel" aria-label={unit} data-name="memory-unit">
      <h3 data-own-words>{unit}</h3>
      {figures.length === 0 && <p class="quiet">{say('settings.memory_nothing_of_unit')}</p>}
      {figures.map((f) => (
        <div key={f.key} class="stack">
          <FigureRow figure={f} about={answer.about} />
          <div class="row">
            <Button onPress={() => setCorrecting(f)} name={`correct:${quantityOf(f)}`}>
              {say('settings.memory_correct')}
            </Button>
            <Button
              onPress={() => void change({ forget: [{ unit, quantity: quantityOf(f) }] })}
              name={`forget:${quantityOf(f)}`}
            >
              {say('settings.memory_forget')}
            </Button>
          </div>
        </div>
      ))}
      <Disclosure summary={say('settings.memory_calls')}>
        <ul class="stack">
          {calls.map((c) => (
            <li key={c.id} class="remembered">
              <span data-own-words>{c.id}</span>
              <Button
                icon="trash"
                kind="bare"
                label={say('settings.memory_forget_call')}
                onPress={() => void change({ forget: [{ call: c.id }] })}
              />
            </li>
          ))}
        </ul>
      </Disclosure>
      <Button kind="danger" onPress={() => void change({ forget: [{ unit }] })} name="forget-unit">
        {say('settings.memory_forget_unit')}
      </Button>
      {correcting && (
        <CorrectSheet
          unit={unit}
          figure={correcting}
          onSave={(value) => {
            void change({ correct: [{ unit, quantity: quantityOf(correcting), value }] });
            setCorrecting(null);
          }}
          onClose={() => setCorrecting(null)}
        />
      )}
    </section>
  );
}

function Everything({ answer, change }: { answer: MemoryAnswer; change: (what: Change) => Promise<void> }) {
  const models = [...new Set(answer.memory.calls.map((c) => c.model).filter(Boolean))];
  const others = answer.figures.filter((f) => !f.key.startsWith('learned_'));
  return (
    <>
      {answer.statements.map((s) => (
        <p key={s.text}>{s.text}</p>
      ))}
      {[...byUnit(answer)].map(([unit, figures]) => (
        <Unit key={unit} unit={unit} figures={figures} answer={answer} change={change} />
      ))}
      {others.map((f) => (
        <FigureRow key={f.key + f.text} figure={f} about={answer.about} />
      ))}
      {answer.tables
        .filter((t) => t.key !== 'forgotten')
        .map((t) => (
          <Disclosure key={t.key} summary={t.label}>
            <TableView table={t} />
          </Disclosure>
        ))}
      {models.length > 0 && (
        <Disclosure summary={say('settings.memory_models')}>
          {models.map((model) => (
            <div class="remembered" key={model}>
              <span data-own-words>{model}</span>
              <Button onPress={() => void change({ forget: [{ model }] })}>
                {say('settings.memory_forget')}
              </Button>
            </div>
          ))}
        </Disclosure>
      )}
      {answer.memory.forgotten.length > 0 && (
        <Disclosure summary={say('settings.memory_forgotten')}>
          {answer.memory.forgotten.map((f) => (
            <div class="remembered" key={JSON.stringify(f)}>
              <span>
                <span data-own-words>{nameOf(f)}</span>
                {f.quantity && <span data-own-words> · {f.quantity}</span>}
              </span>
              <Button onPress={() => void change({ ask_back: [f] })} name="ask-back">
                {say('settings.memory_ask_back')}
              </Button>
            </div>
          ))}
        </Disclosure>
      )}
      <RestsOn about={answer.about} />
    </>
  );
}

export function MemoryScreen() {
  const text = app.store.memory.value;
  const { answer, problem } = useOnce<MemoryAnswer>('memory', memoryRequest(text));
  const { done, problem: refused, change, bring, back } = useChanges();
  const picker = useRef<HTMLInputElement>(null);
  return (
    <Frame title={say('settings.memory')} back={{ room: 'settings' }}>
      <p>{say('settings.memory_note')}</p>
      {(refused ?? problem) && <Notice tone="bad">{refused ?? worded(problem!)}</Notice>}
      {done && (
        <Notice>
          {done.said.map((s) => (
            <p key={s.text}>{s.text}</p>
          ))}
          <Button icon="undo" onPress={() => void back()} name="memory-back">
            {say('shell.undo')}
          </Button>
        </Notice>
      )}
      {answer?.verdict && (
        <p class="verdict" data-name="verdict">
          {answer.verdict.text}
        </p>
      )}
      {answer ? <Everything answer={answer} change={change} /> : <p class="quiet">{say('shell.working')}</p>}
      <section class="stack">
        <Button
          icon="share"
          wide
          disabled={text === null}
          onPress={() => download(new File([text!], 'coldwright-memory.json', { type: 'application/json' }))}
          name="take-memory"
        >
          {say('settings.memory_take')}
        </Button>
        <Button icon="bring" wide onPress={() => picker.current?.click()} name="bring-memory">
          {say('settings.memory_bring')}
        </Button>
        <p class="small quiet">{say('settings.memory_bring_note')}</p>
        <input
          ref={picker}
          type="file"
          accept="application/json,.json"
          class="spoken"
          tabIndex={-1}
          aria-label={say('settings.memory_bring')}
          onChange={(e) => {
            const file = e.currentTarget.files?.[0];
            if (file) void bring(file);
            e.currentTarget.value = '';
          }}
        />
      </section>
    </Frame>
  );
}
