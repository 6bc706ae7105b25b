// The unit: its nameplate as it is printed, and where it stands. Only the cabinet must be known; each field is an
// entry as soon as it is confirmed.
import { useSignal } from '@preact/signals';
import { useState } from 'preact/hooks';
import { Button, Choice, Disclosure, Field, Notice, Sheet } from '../../../parts/parts';
import { Icon } from '../../../parts/icon';
import { app } from '../../../shell/app';
import { href } from '../../../shell/route';
import type { OpenCall } from '../../../store/store';
import { moment, say, type Key } from '../../../words/words';
import { AmountSheet } from '../read/amount_sheet';
import { changeField, fieldsOf } from '../read/fold';
import { siteOf } from '../read/site';
import { useVocabulary, type Vocabulary } from '../read/vocabulary';
import { CabinetPicture } from './cabinet_picture';
import { formerCalls } from './former_calls';
import './unit.css';

type Kind = 'nameplate' | 'site';
type Save = (kind: Kind, field: string, value: string | null) => void;

const amounts: { kind: Kind; field: string; quantity: string; units?: string[] }[] = [
  { kind: 'nameplate', field: 'charge', quantity: 'mass' },
  { kind: 'nameplate', field: 'rated_current', quantity: 'current' },
  { kind: 'nameplate', field: 'rated_voltage', quantity: 'voltage' },
  { kind: 'nameplate', field: 'frequency', quantity: 'frequency' },
  { kind: 'nameplate', field: 'set_point', quantity: 'temperature' },
  { kind: 'nameplate', field: 'displacement', quantity: 'volume' },
];
const places: typeof amounts = [
  { kind: 'site', field: 'ambient', quantity: 'temperature' },
  { kind: 'site', field: 'box', quantity: 'temperature' },
  { kind: 'site', field: 'altitude', quantity: 'length', units: ['ft', 'm'] },
];
const label = (field: string) => say(`call.field_${field}` as Key);

function CabinetChoice({
  words,
  value,
  onChoose,
}: {
  words: Vocabulary;
  value: string | null;
  onChoose: (word: string) => void;
}) {
  return (
    <fieldset class="cabinets" data-name="plate:cabinet">
      <legend>{say('call.cabinet')}</legend>
      <div class="grid">
        {words.cabinets.map((c) => (
          <label key={c.word}>
            <input
              type="radio"
              name="cabinet"
              value={c.word}
              data-name={`cabinet-${c.word}`}
              checked={c.word === value}
              onChange={() => onChoose(c.word)}
            />
            <CabinetPicture cabinet={c.word} />
            <span>{c.label}</span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}

function Cabinet({ words, value, save }: { words: Vocabulary; value: string | null; save: Save }) {
  const [choosing, setChoosing] = useState(false);
  const chosen = words.cabinets.find((c) => c.word === value);
  if (!chosen || choosing)
    return (
      <CabinetChoice
        words={words}
        value={value}
        onChoose={(word) => {
          save('nameplate', 'cabinet', word);
          setChoosing(false);
        }}
      />
    );
  return (
    <button
      type="button"
      class="line-button picture"
      data-name="plate:cabinet"
      onClick={() => setChoosing(true)}
    >
      <CabinetPicture cabinet={chosen.word} />
      <span class="what">{say('call.cabinet')}</span>
      <strong>{chosen.label}</strong>
      <Icon name="swap" />
    </button>
  );
}

function Refrigerants({
  words,
  onChoose,
  onClose,
}: {
  words: Vocabulary;
  onChoose: (word: string) => void;
  onClose: () => void;
}) {
  const text = useSignal('');
  const wanted = text.value.toLowerCase().replace(/[\s-]/g, '');
  const found = words.refrigerants.filter((r) =>
    `${r.label} ${r.name}`.toLowerCase().replace(/[\s-]/g, '').includes(wanted),
  );
  return (
    <Sheet title={label('refrigerant')} onClose={onClose}>
      <Field
        label={say('call.search')}
        value={text.value}
        onInput={(t) => (text.value = t)}
        name="refrigerant-search"
      />
      {found.length === 0 && <Notice>{say('call.none_found')}</Notice>}
      <ul class="stack">
        {found.map((r) => (
          <li key={r.word}>
            <button
              type="button"
              class="line-button"
              data-name={`pick-${r.word}`}
              onClick={() => onChoose(r.word)}
            >
              <strong>{r.label}</strong>
              <span class="what">{r.name}</span>
              <span class="small">{r.safety_class}</span>
            </button>
          </li>
        ))}
      </ul>
    </Sheet>
  );
}

const first = ['R290', 'R600a', 'R134a'];

function Refrigerant({ words, value, save }: { words: Vocabulary; value: string | null; save: Save }) {
  const searching = useSignal(false);
  const take = (word: string) => {
    save('nameplate', 'refrigerant', word);
    searching.value = false;
  };
  const options = value && !first.includes(value) ? [...first, value] : first;
  return (
    <div class="stack" data-name="plate:refrigerant">
      <Choice
        legend={label('refrigerant')}
        value={value}
        onChoose={take}
        onClear={() => save('nameplate', 'refrigerant', null)}
        options={options.map((word) => ({ value: word, label: word }))}
      />
      <Button onPress={() => (searching.value = true)} name="other-refrigerant">
        {say('call.other_refrigerant')}
      </Button>
      {searching.value && (
        <Refrigerants words={words} onChoose={take} onClose={() => (searching.value = false)} />
      )}
    </div>
  );
}

function AmountLine({ call, row, save }: { call: OpenCall; row: (typeof amounts)[number]; save: Save }) {
  const editing = useSignal(false);
  const standing = call.standing.value;
  const value = fieldsOf(standing, row.kind).get(row.field)?.[row.field];
  const hint = `call.hint_${row.field}` as Key;
  return (
    <>
      <button
        type="button"
        class="line-button"
        data-name={`${row.kind === 'site' ? 'site' : 'plate'}:${row.field}`}
        aria-haspopup="dialog"
        onClick={() => (editing.value = true)}
      >
        <span class="what">{label(row.field)}</span>
        {value === undefined ? (
          <span class="quiet add">
            <Icon name="plus" /> {say('call.enter')}
          </span>
        ) : (
          <strong class="number" data-own-words>
            {String(value)}
          </strong>
        )}
      </button>
      {editing.value && (
        <AmountSheet
          title={label(row.field)}
          kind={row.quantity}
          units={row.units}
          draft={`${call.id}.${row.field}`}
          site={siteOf(standing)}
          onClose={() => (editing.value = false)}
          onSave={(text) => {
            save(row.kind, row.field, text);
            editing.value = false;
          }}
          below={
            value !== undefined && (
              <Button
                icon="trash"
                wide
                onPress={() => {
                  save(row.kind, row.field, null);
                  editing.value = false;
                }}
              >
                {say('call.clear_field', { value: String(value) })}
              </Button>
            )
          }
        >
          <p class="quiet small">{say(hint)}</p>
        </AmountSheet>
      )}
    </>
  );
}

/** Free text: an entry once the field is left. */
function TextLine({ call, field, save }: { call: OpenCall; field: string; save: Save }) {
  const draft = app.store.draft(`${call.id}.${field}`);
  const saved = String(fieldsOf(call.standing.value, 'nameplate').get(field)?.[field] ?? '');
  const [typing, setTyping] = useState(draft.peek() !== '');
  return (
    <Field
      label={label(field)}
      value={typing ? draft.value : saved}
      name={`plate:${field}`}
      onInput={(text) => {
        setTyping(true);
        draft.value = text;
      }}
      onDone={() => {
        if (!typing) return;
        const text = draft.peek().trim();
        setTyping(false);
        if (text !== saved) save('nameplate', field, text || null);
        draft.value = '';
      }}
    />
  );
}

/** What is still needed, and what would make the answer sharper. */
function StillNeeded({ call }: { call: OpenCall }) {
  const plate = fieldsOf(call.standing.value, 'nameplate');
  const site = fieldsOf(call.standing.value, 'site');
  if (!plate.has('cabinet')) return <Notice tone="warn">{say('call.needs_cabinet')}</Notice>;
  const helpful = [
    ...['refrigerant', 'charge', 'rated_current', 'rated_voltage'].filter((f) => !plate.has(f)),
    ...['ambient', 'box', 'altitude'].filter(
      (f) => !site.has(f) && !(f === 'altitude' && site.has('barometer')),
    ),
  ];
  if (helpful.length === 0) return <Notice tone="good">{say('call.plate_complete')}</Notice>;
  return (
    <Notice>
      {say('call.enough_but', { fields: helpful.map((f) => label(f).toLowerCase()).join(', ') })}
    </Notice>
  );
}

function History({ call }: { call: OpenCall }) {
  const former = formerCalls(app.store.calls.value, call.id, call.name.value);
  if (former.length === 0) return null;
  return (
    <section class="stack">
      <h2>{say('call.history')}</h2>
      <ul class="stack">
        {former.map((f) => (
          <li key={f.id}>
            <a class="line-button" href={href({ room: 'call', id: f.id, stage: 'answer' })}>
              <span data-own-words>{f.name}</span>
              <span class="what small">{moment(f.changed)}</span>
            </a>
          </li>
        ))}
      </ul>
    </section>
  );
}

export function UnitStage({ call }: { call: OpenCall }) {
  const words = useVocabulary();
  const plate = fieldsOf(call.standing.value, 'nameplate');
  const value = (field: string) => {
    const found = plate.get(field)?.[field];
    return found === undefined ? null : String(found);
  };
  const save: Save = (kind, field, text) => {
    for (const entry of changeField(call.standing.peek(), kind, field, text)) void call.add(entry);
  };
  if (!words) return <p class="quiet">{say('shell.working')}</p>;
  return (
    <>
      <StillNeeded call={call} />
      <section class="stack" aria-label={say('call.plate')}>
        <Cabinet words={words} value={value('cabinet')} save={save} />
        <Refrigerant words={words} value={value('refrigerant')} save={save} />
        <div class="lines">
          {amounts.map((row) => (
            <AmountLine key={row.field} call={call} row={row} save={save} />
          ))}
        </div>
        <Choice
          legend={label('condenser')}
          value={value('condenser')}
          onChoose={(word) => save('nameplate', 'condenser', word)}
          onClear={() => save('nameplate', 'condenser', null)}
          options={words.condensers.map((c) => ({ value: c.word, label: c.label }))}
        />
        <Disclosure summary={say('call.marks')} open={['maker', 'model', 'serial'].some((f) => value(f))}>
          {['maker', 'model', 'serial'].map((field) => (
            <TextLine key={field} call={call} field={field} save={save} />
          ))}
        </Disclosure>
      </section>
      <section class="stack">
        <h2>{say('call.site')}</h2>
        <div class="lines">
          {places.map((row) => (
            <AmountLine key={row.field} call={call} row={row} save={save} />
          ))}
        </div>
      </section>
      <History call={call} />
      <Button kind="main" wide href={href({ room: 'call', id: call.id, stage: 'safety' })} name="to-safety">
        {say('call.on_to', { stage: say('call.safety') })}
      </Button>
    </>
  );
}
