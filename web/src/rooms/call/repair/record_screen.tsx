// The record that the repair leaves: for whom, on which paper, how it looks, signed, and taken along as PDF, HTML,
// JSON or CSV.
import { useState } from 'preact/hooks';
import type { Problem } from '../../../engine/engine';
import { fileName, handOver } from '../../../parts/hand_over';
import { Button, Choice, Disclosure, Field, Notice } from '../../../parts/parts';
import { app } from '../../../shell/app';
import { prefs } from '../../../shell/prefs';
import type { OpenCall } from '../../../store/store';
import { say } from '../../../words/words';
import { worded } from '../../handy/problems';
import { followed } from '../live_answer';
import { useOnce } from '../read/ask_once';
import { useCallText } from './ask_procedure';
import { Finish } from './finish';
import { RecordPreview } from './record_preview';
import { Signatures } from './signature';

export interface RecordAnswer {
  title: string;
  paper: 'a4' | 'letter';
  language: string;
  model: object;
  html: string;
  csv: string;
  data: object;
}

const nothingLeftOut: ReadonlySet<string> = new Set();
const letterhead = ['name', 'address', 'phone', 'licence'] as const;

function useRecord(call: OpenCall, reader: string, paper: string) {
  const live = followed(call).live.value;
  const text = useCallText(call, null, nothingLeftOut);
  const shop = Object.fromEntries(
    letterhead.flatMap((key) => {
      const value = app.store.draft(`shop.${key}`).value.trim();
      return value ? [[key, value]] : [];
    }),
  );
  // The diagnosis at hand takes the place of another; while it grows the record waits for it.
  const ready = live.problem !== null || live.failed !== null || (live.grown?.final && !live.stale);
  const request = ready
    ? {
        call_text: text,
        for: reader,
        paper,
        units: prefs.units.value,
        ...(Object.keys(shop).length > 0 ? { shop } : {}),
        ...(live.answer && !live.problem ? { diagnosis: live.answer } : {}),
      }
    : null;
  const asked = useOnce<RecordAnswer>('record', request, 300);
  return { ...asked, busy: asked.busy || !ready };
}

function Letterhead() {
  return (
    <Disclosure summary={say('repair.letterhead')}>
      {letterhead.map((key) => {
        const text = app.store.draft(`shop.${key}`);
        return (
          <Field
            key={key}
            label={say(`repair.shop_${key}`)}
            value={text.value}
            onInput={(t) => (text.value = t)}
            name={`shop-${key}`}
          />
        );
      })}
    </Disclosure>
  );
}

function Take({ call, record }: { call: OpenCall; record: RecordAnswer | null }) {
  const [failed, setFailed] = useState(false);
  const stem = fileName(call.name.value, 'record');
  const hand = async (content: BlobPart, ending: string, type: string) => {
    await handOver(new File([content], `${stem}.${ending}`, { type }));
  };
  const pdf = async () => {
    try {
      const { paintRecord } = await import('./record_pdf');
      await hand(await paintRecord(record!), 'pdf', 'application/pdf');
      setFailed(false);
    } catch {
      setFailed(true);
    }
  };
  return (
    <div class="stack">
      {failed && <Notice tone="bad">{say('repair.pdf_failed')}</Notice>}
      <Button kind="main" wide icon="share" disabled={!record} onPress={() => void pdf()} name="take-pdf">
        {say('repair.take_pdf')}
      </Button>
      <Button wide icon="list" disabled={!record} onPress={() => print()} name="print-record">
        {say('repair.print')}
      </Button>
      <div class="takes">
        <Button
          disabled={!record}
          onPress={() => void hand(record!.html, 'html', 'text/html')}
          name="take-html"
        >
          HTML
        </Button>
        <Button
          disabled={!record}
          onPress={() => void hand(JSON.stringify(record!.data, null, 1), 'json', 'application/json')}
          name="take-json"
        >
          JSON
        </Button>
        <Button disabled={!record} onPress={() => void hand(record!.csv, 'csv', 'text/csv')} name="take-csv">
          CSV
        </Button>
      </div>
    </div>
  );
}

function Wrong({ problem }: { problem: Problem | null }) {
  return problem && <Notice tone="warn">{worded(problem)}</Notice>;
}

export function RecordScreen({ call }: { call: OpenCall }) {
  const reader = app.store.draft(`${call.id}.record.for`);
  const paper = app.store.draft('record.paper');
  const chosen = reader.value === 'shop' ? 'shop' : 'customer';
  const sheet = paper.value || (prefs.units.value === 'us' ? 'letter' : 'a4');
  const { answer, problem, busy } = useRecord(call, chosen, sheet);
  return (
    <>
      <Choice
        legend={say('repair.record_for')}
        value={chosen}
        options={[
          { value: 'customer', label: say('repair.role_customer') },
          { value: 'shop', label: say('repair.for_shop') },
        ]}
        onChoose={(v) => (reader.value = v)}
      />
      <p class="small quiet">{say(chosen === 'shop' ? 'repair.shop_note' : 'repair.customer_note')}</p>
      <Signatures call={call} />
      <Take call={call} record={busy ? null : answer} />
      <section class="stack" aria-label={say('repair.preview')} data-name="preview" data-busy={busy}>
        <h3>{say('repair.preview')}</h3>
        <Wrong problem={problem} />
        {busy && !answer && <p class="quiet">{say('shell.working')}</p>}
        {answer && <RecordPreview html={answer.html} label={answer.title} />}
      </section>
      <Choice
        legend={say('repair.paper')}
        value={sheet}
        options={[
          { value: 'a4', label: 'A4' },
          { value: 'letter', label: 'Letter' },
        ]}
        onChoose={(v) => (paper.value = v)}
      />
      <Letterhead />
      <Finish call={call} />
    </>
  );
}
