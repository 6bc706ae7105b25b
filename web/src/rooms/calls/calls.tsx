// The first screen: the calls on this phone, a new one at the thumb, a demo one tap away.
import { useSignal } from '@preact/signals';
import { useRef, useState } from 'preact/hooks';
import { Button, Field, Notice, Sheet } from '../../parts/parts';
import { app } from '../../shell/app';
import { Frame } from '../../shell/frame';
import { go, href } from '../../shell/route';
import { offlineReady, takeUpdate, updateWaiting } from '../../shell/update';
import { moment, say, sayCount } from '../../words/words';
import { standing } from '../practice/standing';
import { demos } from './demos';
import './calls.css';

const open = (id: string, stage: 'unit' | 'answer' = 'unit') => go({ room: 'call', id, stage });

function NewCall({ onClose }: { onClose: () => void }) {
  const name = app.store.draft('new_call');
  const begin = async () => {
    const call = await app.store.create(name.value.trim());
    name.value = '';
    call.close();
    onClose();
    open(call.id);
  };
  return (
    <Sheet title={say('calls.new')} onClose={onClose}>
      <Field
        label={say('calls.name')}
        hint={say('calls.name_hint')}
        value={name.value}
        onInput={(text) => (name.value = text)}
        name="call-name"
      />
      <Button kind="main" wide disabled={!name.value.trim()} onPress={() => void begin()} name="begin">
        {say('calls.begin')}
      </Button>
    </Sheet>
  );
}

function Demos() {
  return (
    <section class="stack" aria-label={say('calls.demos')}>
      <h2>{say('calls.demos')}</h2>
      <p class="quiet small">{say('calls.demo_note')}</p>
      <ul class="stack">
        {demos.map((demo) => (
          <li key={demo.call}>
            <Button
              wide
              name="demo"
              onPress={async () => {
                const call = await app.store.create(demo.call, demo.entries, true);
                call.close();
                open(call.id, 'answer');
              }}
            >
              {demo.call}
            </Button>
          </li>
        ))}
      </ul>
    </section>
  );
}

export function Calls() {
  const naming = useSignal(false);
  const [problem, setProblem] = useState<string | null>(null);
  const [removed, setRemoved] = useState<{ name: string; undo: () => Promise<void> } | null>(null);
  const picker = useRef<HTMLInputElement>(null);
  const calls = app.store.calls.value;
  const bringIn = async (file: File | undefined) => {
    if (!file) return;
    try {
      const call = await app.store.importFile(file);
      call.close();
      open(call.id);
    } catch (error) {
      setProblem(error instanceof Error ? error.message : String(error));
    }
  };
  return (
    <Frame title={say('calls.title')}>
      {updateWaiting.value && (
        <Notice>
          <p>{say('calls.update')}</p>
          <Button onPress={takeUpdate} name="take-update">
            {say('calls.take_update')}
          </Button>
        </Notice>
      )}
      {problem && <Notice tone="bad">{say('calls.import_failed', { why: problem })}</Notice>}
      {removed && (
        <Notice>
          <p>{say('calls.deleted', { name: removed.name })}</p>
          <Button icon="undo" onPress={() => void removed.undo().then(() => setRemoved(null))}>
            {say('calls.bring_back')}
          </Button>
        </Notice>
      )}
      <section class="stack" aria-label={say('calls.open_calls')}>
        {calls.length === 0 && <p class="quiet">{say('calls.none')}</p>}
        <ul class="stack">
          {calls.map((call) => (
            <li key={call.id} class="call-row panel">
              <a href={href({ room: 'call', id: call.id, stage: 'unit' })}>
                <strong>{call.name}</strong>
                <span class="quiet small">
                  {moment(call.changed)} · {sayCount('calls.entries', call.entries)}
                  {call.demo && ` · ${say('calls.demo')}`}
                </span>
              </a>
              <Button
                icon="trash"
                kind="bare"
                label={say('calls.delete', { name: call.name })}
                onPress={async () => setRemoved({ name: call.name, undo: await app.store.remove(call.id) })}
              />
            </li>
          ))}
        </ul>
      </section>
      <Button kind="main" wide icon="plus" onPress={() => (naming.value = true)} name="new-call">
        {say('calls.new')}
      </Button>
      <Button wide icon="steps" href={href({ room: 'practice' })} name="practice">
        {say(standing() === null ? 'calls.practice' : 'calls.practice_on')}
      </Button>
      <Demos />
      <Button wide icon="bring" onPress={() => picker.current?.click()}>
        {say('calls.import')}
      </Button>
      <input
        ref={picker}
        type="file"
        class="spoken"
        tabIndex={-1}
        aria-label={say('calls.import')}
        accept="application/json,.json"
        onChange={(e) => void bringIn(e.currentTarget.files?.[0])}
      />
      {offlineReady.value && <p class="quiet small">{say('calls.offline_ready')}</p>}
      {naming.value && <NewCall onClose={() => (naming.value = false)} />}
    </Frame>
  );
}
