// The machine: who called, its plate, all that can be done with its minutes before it is tapped, what has been
// found, and at the thumb the clock and the decision.
import { useSignal } from '@preact/signals';
import { Icon } from '../../parts/icon';
import { Button, Disclosure, Sheet } from '../../parts/parts';
import type { UseCases } from '../../engine/engine';
import { Frame } from '../../shell/frame';
import { prefs } from '../../shell/prefs';
import { useAsk } from '../../shell/use_ask';
import { say } from '../../words/words';
import { Cautions, Facts } from '../handy/tool';
import { useVocabulary } from '../call/read/vocabulary';
import { DecideSheet } from './decide';
import { Stuck, ThrowAway } from './practice';
import { take, type Standing } from './standing';

type Call = UseCases['practice_call']['answer'];
type Offer = Call['offers'][number];
type StepRow = UseCases['practice_step']['answer']['steps'][number];

/** As a title begins. */
const begun = (text: string) => text.charAt(0).toLocaleUpperCase(prefs.language.value) + text.slice(1);

function OfferButton({ offer, onTap }: { offer: Offer; onTap: () => void }) {
  return (
    <li>
      <button
        type="button"
        class={`button wide offer${offer.shown ? ' taken' : ''}`}
        data-name={`do:${offer.action}`}
        onClick={onTap}
      >
        <span class="what">
          {offer.label}
          {offer.shown && <strong>{offer.shown}</strong>}
          {offer.hazard_text && <span class="hazard small">{offer.hazard_text}</span>}
        </span>
        <span class="takes">
          {offer.opens_circuit && <Icon name="warn" />}
          {offer.minutes.text}
        </span>
      </button>
    </li>
  );
}

/** What opens the circuit or stops the machine is asked about before it is done. */
function Sure({ offer, onClose }: { offer: Offer; onClose: () => void }) {
  return (
    <Sheet title={offer.label} onClose={onClose}>
      {offer.opens_circuit && (
        <p>{say('practice.opens', { minutes: offer.minutes.text, grams: offer.grams_lost })}</p>
      )}
      {offer.stops_machine && <p>{say('practice.stops')}</p>}
      {offer.hazard_text && (
        <p class="hazard">
          <Icon name="warn" /> {offer.hazard_text}
        </p>
      )}
      <Button
        kind="main"
        wide
        name="do-sure"
        onPress={() => {
          take(offer.action);
          onClose();
        }}
      >
        {say('practice.do_it', { minutes: offer.minutes.text })}
      </Button>
      <Button wide onPress={onClose}>
        {say('practice.not_now')}
      </Button>
    </Sheet>
  );
}

function Found({ steps }: { steps: readonly StepRow[] }) {
  const last = steps.at(-1);
  return (
    <>
      <output
        class="found panel"
        aria-label={say('practice.found')}
        data-name="last"
        data-steps={steps.length}
      >
        {last ? (
          <>
            <span class="quiet small">{last.label}</span>
            <strong class="value">{last.shown}</strong>
            {last.remarks.map((r) => (
              <span class="small" key={r.key}>
                {r.text}
              </span>
            ))}
          </>
        ) : (
          <span class="quiet">{say('practice.nothing_yet')}</span>
        )}
      </output>
      {steps.length > 1 && (
        <Disclosure summary={say('practice.so_far')}>
          <ol class="so-far">
            {steps.map((s, i) => (
              <li key={i}>
                <span class="quiet small">{s.minutes_used.text}</span> {s.label}: <strong>{s.shown}</strong>
              </li>
            ))}
          </ol>
        </Disclosure>
      )}
    </>
  );
}

function Offers({ offers, onTap }: { offers: readonly Offer[]; onTap: (offer: Offer) => void }) {
  const words = useVocabulary();
  const group = (action: string) => words?.observations.find((o) => o.word === action)?.group;
  const looks = offers.filter((o) => o.kind === 'look');
  const sections: { name: string; rows: readonly Offer[] }[] = words
    ? words.groups.map((g) => ({ name: g.label, rows: looks.filter((o) => group(o.action) === g.word) }))
    : [{ name: say('practice.look'), rows: looks }];
  const readings = offers.filter((o) => o.kind === 'reading');
  // A part each, in the order that the refrigerant goes round; what stops the machine or opens it stands last.
  const closed = readings.filter((o) => !o.opens_circuit);
  sections.push({ name: say('practice.read'), rows: closed });
  sections.push({ name: say('practice.wait'), rows: offers.filter((o) => o.kind === 'wait') });
  sections.push({ name: say('practice.open'), rows: readings.filter((o) => o.opens_circuit) });
  return (
    <>
      {sections
        .filter((s) => s.rows.length > 0)
        .map((s) => (
          <section class="stack" key={s.name} aria-label={s.name}>
            <h2 class="group">{s.name}</h2>
            <ul class="offers">
              {s.rows.map((o) => (
                <OfferButton key={o.action} offer={o} onTap={() => onTap(o)} />
              ))}
            </ul>
          </section>
        ))}
    </>
  );
}

/** At the thumb: how long it has taken, how the circuit stands, and the decision. */
function ClockBar({ state, onDecide }: { state: Call['state'] | undefined; onDecide: () => void }) {
  return (
    <div class="practice-bar">
      <p class="clock">
        <Icon name="clock" />
        <strong data-name="minutes">{state?.minutes.text ?? '–'}</strong>
        <span class="small">{say('practice.box', { box: state?.box.text ?? '–' })}</span>
        <span class={`small ${state?.opened ? 'opened' : 'quiet'}`} data-name="circuit">
          {say(state?.opened ? 'practice.opened' : 'practice.closed')}
        </span>
      </p>
      <Button kind="main" icon="scales" disabled={!state} onPress={onDecide} name="decide">
        {say('practice.decide')}
      </Button>
    </div>
  );
}

export function Machine({ now }: { now: Standing }) {
  const door = useAsk('practice_call', now.of);
  const walk = useAsk('practice_step', { ...now.of, actions: [...now.actions] });
  const sure = useSignal<Offer | null>(null);
  const deciding = useSignal(false);
  const call = door.answer;
  const state = walk.answer?.state ?? call?.state;
  const problem = door.problem ?? walk.problem;
  const tap = (offer: Offer) => {
    if (offer.opens_circuit || offer.stops_machine) sure.value = offer;
    else take(offer.action);
  };
  return (
    <Frame
      title={call ? begun(call.plate.cabinet.label) : say('practice.title')}
      back={{ room: 'calls' }}
      actions={<ThrowAway done={false} />}
      bar={<ClockBar state={state} onDecide={() => (deciding.value = true)} />}
    >
      {problem && <Stuck problem={problem} />}
      {!call && !problem && <p class="quiet">{say('shell.working')}</p>}
      {call && (
        <>
          <figure class="customer">
            <blockquote>{call.customer.said}</blockquote>
            <figcaption class="quiet small">{call.customer.place}</figcaption>
          </figure>
          <div class="small quiet">
            {call.walking_in.map((w) => (
              <p key={w.key}>{w.text}</p>
            ))}
          </div>
          <Disclosure summary={say('practice.plate')}>
            <Facts
              facts={[
                { label: say('practice.refrigerant'), text: call.plate.refrigerant },
                { label: say('practice.charge'), text: call.plate.charge.text },
                { label: say('practice.current'), text: call.plate.rated_current.text },
                { label: say('practice.voltage'), text: call.plate.rated_voltage.text },
                { label: say('practice.set_point'), text: call.plate.set_point.text },
              ]}
            />
          </Disclosure>
          <Disclosure summary={say('practice.cautions')}>
            <Cautions lines={call.cautions} />
          </Disclosure>
          <Found steps={walk.answer?.steps ?? []} />
          <Offers offers={walk.answer?.offers ?? call.offers} onTap={tap} />
        </>
      )}
      {sure.value && <Sure offer={sure.value} onClose={() => (sure.value = null)} />}
      {deciding.value && call && (
        <DecideSheet
          causes={call.causes}
          two={call.level === 'hard' || call.recorded !== null}
          onClose={() => (deciding.value = false)}
        />
      )}
    </Frame>
  );
}
