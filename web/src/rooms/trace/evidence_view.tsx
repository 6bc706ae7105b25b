// What the trace has to say to a call, and the tap that takes it there: into the call that is open, or into one
// that is chosen.
import { useState } from 'preact/hooks';
import type { TraceAnswer } from '../../engine/engine';
import { Button, Notice, Sheet } from '../../parts/parts';
import { app } from '../../shell/app';
import { go } from '../../shell/route';
import type { OpenCall } from '../../store/store';
import { say, sayCount } from '../../words/words';
import { shareText } from '../call/answer/group';
import { siteOf } from '../call/read/site';
import type { Site } from '../call/read/understood';
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
          <dd>{say('trace.sure', { p: shareText(o.confidence) })}</dd>
        </div>
      ))}
    </dl>
  );
}

/** Which call it goes into, where none is open: `onChoose` opens or begins it. */
function ChooseCall({ onChoose, onClose }: { onChoose: (id: string | null) => void; onClose: () => void }) {
  return (
    <Sheet title={say('trace.which_call')} onClose={onClose}>
      <ul class="stack">
        {app.store.calls.value.map((c) => (
          <li key={c.id}>
            <Button wide onPress={() => onChoose(c.id)} name="into-call">
              {c.name}
            </Button>
          </li>
        ))}
      </ul>
      <Button wide icon="plus" onPress={() => onChoose(null)} name="into-new">
        {say('calls.new')}
      </Button>
    </Sheet>
  );
}

export function EvidenceView({ call, read }: { call: OpenCall | null; read: Read }) {
  const { answer } = read;
  const main = answer.files.find((f) => f.main);
  const [choosing, setChoosing] = useState(false);
  const [busy, setBusy] = useState(false);
  const count = answer.evidence.entries.length;
  const there = call !== null && stands(call, answer);
  // What is taken is what stands on the screen: a column that was corrected since is read again first, by its own key.
  const old = read.layouts !== room.layoutsNow();
  /** Pressures are against the air of the call's own site: where that is another, it is read again first. False where
      that failed or was stopped; no call is then begun for it. */
  const take = async (site: Site, into: () => OpenCall | Promise<OpenCall>): Promise<boolean> => {
    setBusy(true);
    try {
      const now = room.siteKey(site) === read.site ? read : await room.read(site);
      if (now) await takeInto(await into(), now.answer);
      return now !== null;
    } finally {
      setBusy(false);
    }
  };
  const choose = async (id: string | null) => {
    setChoosing(false); // how far a reading is, its end and its way out stand below
    let chosen = id === null ? null : await app.store.open(id);
    if (id !== null && !chosen) return;
    const site = siteOf(chosen?.standing.peek() ?? []);
    const into = async () => (chosen ??= await app.store.create(say('trace.new_call_name')));
    try {
      if ((await take(site, into)) && chosen) go({ room: 'call', id: chosen.id, stage: 'read' });
    } finally {
      chosen?.close();
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
              disabled={busy || old || room.share.value !== null}
              onPress={() => (call ? void take(siteOf(call.standing.peek()), () => call) : setChoosing(true))}
              name="take-into"
            >
              {say(call ? 'trace.take_into' : 'trace.take_into_one')}
            </Button>
          )}
        </>
      )}
      {choosing && <ChooseCall onChoose={(id) => void choose(id)} onClose={() => setChoosing(false)} />}
    </section>
  );
}
