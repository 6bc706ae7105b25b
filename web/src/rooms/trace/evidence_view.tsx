// What the trace has to say to a call, and the tap that takes it there: into the call that is open, or into one
// that is chosen.
import { useState } from 'preact/hooks';
import type { TraceAnswer } from '../../engine/engine';
import { Button, Notice, Sheet } from '../../parts/parts';
import { app } from '../../shell/app';
import { go } from '../../shell/route';
import type { OpenCall } from '../../store/store';
import { number, say, sayCount } from '../../words/words';
import { siteOf } from '../call/read/site';
import { asWritten } from './typed';
import * as room from './opened';
import type { Read } from './opened';
import { stands, takeInto, takenOf, takeOut } from './take';

function Findings({ answer }: { answer: TraceAnswer }) {
  const { readings, observed, entries } = answer.evidence;
  const site = entries.find((e) => (e as { kind: string }).kind === 'site') as
    Record<string, string> | undefined;
  return (
    <dl class="figures">
      {(['box', 'ambient'] as const).map(
        (field) =>
          site?.[field] && (
            <div key={field}>
              <dt>{say(`call.field_${field}`)}</dt>
              <dd>{asWritten(site[field])}</dd>
            </div>
          ),
      )}
      {readings.map((r) => (
        <div key={r.reading}>
          <dt>{r.label}</dt>
          <dd>{r.text}</dd>
        </div>
      ))}
      {observed.map((o) => (
        <div key={o.subject}>
          <dt>{o.label}</dt>
          <dd>{say('trace.sure', { p: `${number(Math.round(o.confidence * 100))} %` })}</dd>
        </div>
      ))}
    </dl>
  );
}

/** Which call it goes into, where none is open. */
function ChooseCall({ take, onClose }: { take: (call: OpenCall) => Promise<void>; onClose: () => void }) {
  const into = async (call: OpenCall | null) => {
    if (!call) return;
    await take(call);
    call.close();
    onClose();
    go({ room: 'call', id: call.id, stage: 'read' });
  };
  return (
    <Sheet title={say('trace.which_call')} onClose={onClose}>
      <ul class="stack">
        {app.store.calls.value.map((c) => (
          <li key={c.id}>
            <Button wide onPress={() => void app.store.open(c.id).then(into)} name="into-call">
              {c.name}
            </Button>
          </li>
        ))}
      </ul>
      <Button
        wide
        icon="plus"
        onPress={() => void app.store.create(say('trace.new_call_name')).then(into)}
        name="into-new"
      >
        {say('calls.new')}
      </Button>
    </Sheet>
  );
}

export function EvidenceView({ call, read }: { call: OpenCall | null; read: Read }) {
  const { answer, names } = read;
  const main = answer.files.find((f) => f.main);
  const [choosing, setChoosing] = useState(false);
  const [busy, setBusy] = useState(false);
  const count = answer.evidence.entries.length;
  const there = call !== null && stands(call, answer, names);
  /** Pressures are against the air of the call's own site: where that is another, it is read again first. */
  const take = async (into: OpenCall) => {
    setBusy(true);
    try {
      const site = siteOf(into.standing.peek());
      if (room.readKey(site) !== read.of) await room.read(site);
      const now = room.found.peek();
      if (now?.of === room.readKey(site)) await takeInto(into, now.answer, now.names);
    } finally {
      setBusy(false);
    }
  };
  return (
    <section class="panel evidence" aria-label={say('trace.evidence')} data-name="evidence">
      <h2>{say('trace.evidence')}</h2>
      {count === 0 ? (
        <p class="quiet">{say('trace.no_evidence')}</p>
      ) : (
        <>
          <Findings answer={answer} />
          <p class="quiet small">
            {answer.evidence.readings.length > 0 &&
              say('trace.read_then', { from: answer.evidence.from_text, to: answer.evidence.to_text })}{' '}
            {main?.start === null ? say('trace.no_dates') : main?.zoned === false && say('trace.phone_zone')}
          </p>
          {there ? (
            <Notice tone="good">
              <p>{sayCount('trace.taken', count)}</p>
              <Button
                icon="undo"
                onPress={() => {
                  const last = takenOf(call).at(-1);
                  if (last) void takeOut(call, last);
                }}
                name="take-out"
              >
                {say('trace.take_out')}
              </Button>
            </Notice>
          ) : (
            <Button
              kind="main"
              wide
              disabled={busy}
              onPress={() => (call ? void take(call) : setChoosing(true))}
              name="take-into"
            >
              {say(call ? 'trace.take_into' : 'trace.take_into_one')}
            </Button>
          )}
        </>
      )}
      {choosing && <ChooseCall take={take} onClose={() => setChoosing(false)} />}
    </section>
  );
}
