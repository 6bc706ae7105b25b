// Safety before hands: short cautions where the hand is about to act, each with a tick. Nothing is locked; what is
// passed over wants a reason. No tick makes a thing safe, and no text here says so.
import { useState } from 'preact/hooks';
import { Button, Notice } from '../../../parts/parts';
import { Icon } from '../../../parts/icon';
import { href } from '../../../shell/route';
import type { OpenCall } from '../../../store/store';
import { say, sayCount } from '../../../words/words';
import { ReasonSheet } from '../reason_sheet';
import { fieldsOf, stateOf, stepsOf, type StepState } from '../read/fold';
import { openOnes, places, stepName, useCautions, type Caution } from './cautions';
import './safety.css';

function CautionRow({ call, caution }: { call: OpenCall; caution: Caution }) {
  const [skipping, setSkipping] = useState(false);
  const step = stepsOf(call.standing.value).get(stepName(caution.key));
  const state = stateOf(step);
  const set = (next: StepState, reason?: string) =>
    void call.add({
      kind: 'step',
      step: stepName(caution.key),
      state: next,
      ...(reason ? { reason } : {}),
      ...(step ? { replaces: step.id } : {}),
    });
  return (
    <li class={`caution ${state}`}>
      <label>
        <input
          type="checkbox"
          checked={state === 'done'}
          data-name={`tick:${caution.key}`}
          onChange={() => set(state === 'done' ? 'open' : 'done')}
        />
        <span class="box" aria-hidden="true">
          {state === 'done' && <Icon name="tick" />}
        </span>
        <span>{caution.text}</span>
      </label>
      {state === 'skipped' ? (
        <p class="skipped small">
          <span>
            {say('call.skipped')} <span data-own-words>{String(step?.reason ?? '')}</span>
          </span>
          <Button kind="bare" onPress={() => set('open')}>
            {say('call.skip_back')}
          </Button>
        </p>
      ) : (
        state === 'open' && (
          <Button kind="bare" onPress={() => setSkipping(true)} name={`skip:${caution.key}`}>
            {say('call.skip')}
          </Button>
        )
      )}
      {skipping && (
        <ReasonSheet
          title={say('call.skip_title')}
          draft={`${call.id}.skip.${caution.key}`}
          onClose={() => setSkipping(false)}
          onSave={(reason) => {
            set('skipped', reason);
            setSkipping(false);
          }}
        >
          <p>{caution.text}</p>
        </ReasonSheet>
      )}
    </li>
  );
}

export function SafetyStage({ call }: { call: OpenCall }) {
  const cautions = useCautions(call);
  if (!fieldsOf(call.standing.value, 'nameplate').has('cabinet'))
    return (
      <Notice tone="warn">
        <p>{say('call.safety_needs_cabinet')}</p>
        <Button href={href({ room: 'call', id: call.id, stage: 'unit' })}>{say('call.unit')}</Button>
      </Notice>
    );
  if (!cautions) return <p class="quiet">{say('shell.working')}</p>;
  const open = openOnes(cautions, call.standing.value);
  return (
    <>
      <Notice tone={open > 0 ? 'warn' : 'note'}>
        {open > 0 ? sayCount('call.safety_open', open) : say('call.safety_ticked')}
      </Notice>
      {places.map((place) => {
        const here = cautions.filter((c) => c.place === place);
        if (here.length === 0) return null;
        return (
          <section class="stack" key={place}>
            <h2>{say(`call.place_${place}`)}</h2>
            <ul class="stack">
              {here.map((c) => (
                <CautionRow key={c.key} call={call} caution={c} />
              ))}
            </ul>
          </section>
        );
      })}
      <Button kind="main" wide href={href({ room: 'call', id: call.id, stage: 'look' })} name="to-look">
        {say('call.on_to', { stage: say('call.look') })}
      </Button>
    </>
  );
}
