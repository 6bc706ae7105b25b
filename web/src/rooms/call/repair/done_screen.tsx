// What was done: cause, work, parts, refrigerant, product temperatures, what is left to watch; each kind with its
// entries, photos beside them, and a button to add one.
import { useState } from 'preact/hooks';
import { Button } from '../../../parts/parts';
import type { Entry, OpenCall } from '../../../store/store';
import { moment, say, type Key } from '../../../words/words';
import { followed } from '../live_answer';
import { withdrawal } from '../read/fold';
import { Photos } from '../read/photos';
import { AccountView } from './account_view';
import { EntrySheet } from './entry_sheet';
import { entryKinds, type EntryKind } from './kinds';
import './repair.css';

/** An entry in one line, in the person's own words and the choices' labels. */
function Line({ call, entry }: { call: OpenCall; entry: Entry }) {
  const text = (key: string) => (entry[key] === undefined ? '' : String(entry[key]));
  const { answer } = followed(call).live.value;
  switch (entry.kind) {
    case 'cause_found': {
      const known = answer?.causes.find((c) => c.cause === entry.cause)?.label;
      return (
        <>
          {known ?? <span data-own-words>{text('cause')}</span>}
          {entry.how !== undefined && <span data-own-words>: {text('how')}</span>}
        </>
      );
    }
    case 'part':
      return (
        <>
          <span data-own-words>{text('part')}</span>:{' '}
          {say(`repair.action_${text('action') || 'replaced'}` as Key)}
          <span data-own-words>
            {text('detail') && `, ${text('detail')}`}
            {text('cost') && `, ${text('cost')}`}
          </span>
        </>
      );
    case 'refrigerant_moved':
      return (
        <>
          {say(`repair.movement_${text('movement')}` as Key)}{' '}
          <span class="number">{text('mass') || `${text('before')} → ${text('after')}`}</span>{' '}
          <span data-own-words>{[text('refrigerant'), text('cylinder')].filter(Boolean).join(', ')}</span>
        </>
      );
    case 'product_temperature':
      return (
        <>
          <span class="number">{text('value')}</span> <span data-own-words>{text('product')}</span>
        </>
      );
    default:
      return <span data-own-words>{text('text')}</span>;
  }
}

function Kind({ call, kind }: { call: OpenCall; kind: EntryKind }) {
  const [writing, setWriting] = useState<{ correct: Entry | null } | null>(null);
  const entries = call.standing.value.filter((e) => e.kind === kind.kind);
  const name = say(`repair.kind_${kind.kind}`);
  return (
    <section class="stack" aria-label={name} data-name={`kind:${kind.kind}`}>
      <h3>{name}</h3>
      {entries.length > 0 && (
        <ul class="written">
          {entries.map((e) => (
            <li key={e.id}>
              <button type="button" class="written-text" onClick={() => setWriting({ correct: e })}>
                <span>
                  <Line call={call} entry={e} />
                </span>
                <span class="small quiet">{moment(e.at)}</span>
                <span class="spoken">{say('call.correct', { what: name })}</span>
              </button>
              <div class="row">
                <Photos call={call} entry={e} of={name} />
                <Button
                  icon="trash"
                  kind="bare"
                  label={say('call.withdraw', { what: name })}
                  onPress={() => void call.add(withdrawal(e))}
                />
              </div>
            </li>
          ))}
        </ul>
      )}
      {kind.kind === 'refrigerant_moved' && <AccountView entries={entries} />}
      <Button icon="plus" wide onPress={() => setWriting({ correct: null })} name={`add:${kind.kind}`}>
        {say(`repair.add_${kind.kind}`)}
      </Button>
      {writing && (
        <EntrySheet
          key={writing.correct?.id ?? 'new'}
          call={call}
          kind={kind}
          correct={writing.correct}
          onClose={() => setWriting(null)}
        />
      )}
    </section>
  );
}

/** Only `kinds` where a step is about some of them: recovering is about refrigerant. */
export function DoneScreen({ call, kinds }: { call: OpenCall; kinds?: readonly EntryKind['kind'][] }) {
  const shown = entryKinds.filter((k) => !kinds || kinds.includes(k.kind));
  return (
    <>
      {shown.map((k) => (
        <Kind key={k.kind} call={call} kind={k} />
      ))}
    </>
  );
}
