// The trace room: files, how they are to be read, one tap, what they say. Within a call it gives what was found to
// that call.
import { useEffect, useRef } from 'preact/hooks';
import { Bar, Button, Disclosure, Notice } from '../../parts/parts';
import { prefs } from '../../shell/prefs';
import type { OpenCall } from '../../store/store';
import { number, say, sayCount } from '../../words/words';
import { siteOf } from '../call/read/site';
import { worded } from '../handy/problems';
import { AnswerView } from './answer_view';
import { EvidenceView } from './evidence_view';
import { GuessView } from './guess_view';
import { complete } from './layout';
import * as room from './opened';
import './trace.css';

function OpenFiles({ first }: { first: boolean }) {
  const picker = useRef<HTMLInputElement>(null);
  return (
    <>
      <Button
        wide
        icon="bring"
        kind={first ? 'main' : 'plain'}
        onPress={() => picker.current?.click()}
        name="open-files"
      >
        {say(first ? 'trace.open' : 'trace.open_more')}
      </Button>
      <input
        ref={picker}
        type="file"
        multiple
        class="spoken"
        tabIndex={-1}
        aria-label={say('trace.open')}
        data-name="files"
        onChange={(e) => {
          void room.open([...(e.currentTarget.files ?? [])]);
          e.currentTarget.value = '';
        }}
      />
    </>
  );
}

/** At the thumb: read it, or how far it is and the way out. */
function ReadBar({ call }: { call: OpenCall | null }) {
  const share = room.share.value;
  const files = room.files.value;
  if (share !== null)
    return (
      <div class="read-bar">
        <p>
          {say('trace.reading')} <span class="number">{number(Math.round(share * 100))} %</span>
        </p>
        <Bar share={share} label={say('trace.reading')} />
        <Button wide onPress={room.cancel} name="cancel-read">
          {say('trace.cancel')}
        </Button>
      </div>
    );
  const ready = files.filter((f) => f.layout && f.guess && complete(f.layout, f.guess.choices.columns));
  const waiting = files.some((f) => f.layout && !ready.includes(f));
  const read = room.found.value;
  const site = siteOf(call?.standing.value ?? []);
  if (files.every((f) => !f.layout) || read?.of === room.readKey(site)) return null;
  return (
    <div class="read-bar">
      {waiting && <p class="small problem">{say('trace.not_complete')}</p>}
      <Button
        kind="main"
        wide
        disabled={waiting || ready.length === 0}
        onPress={() => void room.read(site)}
        name="read-it"
      >
        {say(read ? 'trace.read_again' : 'trace.read_it')}
      </Button>
    </div>
  );
}

/** In other words or units the core words it anew; the first screen needs no second reading. */
function useRewording(call: OpenCall | null) {
  const worded = useRef(`${prefs.language.value} ${prefs.units.value}`);
  const now = `${prefs.language.value} ${prefs.units.value}`;
  useEffect(() => {
    if (worded.current === now) return;
    const spoken = worded.current.split(' ')[0] !== prefs.language.value;
    worded.current = now;
    if (spoken) void room.rewordAll();
    if (room.found.peek()) void room.read(siteOf(call?.standing.peek() ?? []));
  }, [now]);
}

export function TraceBody({ call }: { call: OpenCall | null }) {
  useRewording(call);
  const files = room.files.value;
  const read = room.found.value;
  const guesses = files.map((f) => <GuessView key={f.id} file={f} />);
  const top = useRef<HTMLDivElement>(null);
  const answer = read?.answer;
  useEffect(() => {
    if (answer) top.current?.scrollIntoView({ block: 'start' });
  }, [answer]);
  return (
    <div class="trace-room stack">
      {files.length === 0 && <p>{say('trace.what')}</p>}
      {files.length === 0 && <p class="quiet small">{say('trace.what_files')}</p>}
      {read ? (
        <Disclosure summary={sayCount('trace.files', files.length)}>{guesses}</Disclosure>
      ) : (
        <>
          {files.some((f) => f.layout) && <p class="quiet small">{say('trace.confirm')}</p>}
          {guesses}
        </>
      )}
      <OpenFiles first={files.length === 0} />
      {room.trouble.value && (
        <Notice tone="bad">
          <p>
            {room.trouble.value.field === 'unreadable'
              ? say('trace.unreadable', { name: room.trouble.value.given, why: room.trouble.value.why })
              : worded(room.trouble.value)}
          </p>
          <p class="small">{say('trace.nothing_lost')}</p>
        </Notice>
      )}
      {read && (
        <div ref={top} class="read-here">
          <AnswerView key={read.of} answer={read.answer}>
            <EvidenceView call={call} read={read} />
          </AnswerView>
        </div>
      )}
      <ReadBar call={call} />
    </div>
  );
}
