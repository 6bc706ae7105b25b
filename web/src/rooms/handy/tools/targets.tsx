// Target suction and head: what a sound machine of this kind shows at this box and ambient, beside the
// rules of thumb.
import type { UseCases } from '../../../engine/engine';
import { Notice } from '../../../parts/parts';
import { app } from '../../../shell/app';
import { useAsk } from '../../../shell/use_ask';
import { say } from '../../../words/words';
import { SiteLine, useSurroundings } from '../../settings/site';
import { AmountField, useAmount } from '../amount_field';
import { useStanding } from '../problems';
import { refrigerant } from '../recent';
import { RefrigerantChoice } from '../refrigerant_choice';
import { Cautions, Facts, Headline, OtherProblem, RestsOn, ToolScreen, type Said } from '../tool';

type Answer = UseCases['expect']['answer'];
type State = Answer['now'];

const wanted = ['suction_pressure', 'discharge_pressure'];

/** Suction and head, big; the rest of what that machine shows. */
export function partsOf(state: State): { figures: Said[]; ranges: string; rest: Said[] } {
  const all = state.quantities;
  const main = wanted.flatMap((w) => all.filter((q) => q.quantity === w));
  return {
    figures: main.map((q) => ({ label: q.label, text: q.interval.mid.text })),
    ranges: main.map((q) => q.interval.text).join(' · '),
    rest: all
      .filter((q) => !wanted.includes(q.quantity))
      .map((q) => ({ label: q.label, text: q.interval.text })),
  };
}

function Rules({ rules }: { rules: Answer['rules_of_thumb'] }) {
  if (rules.length === 0) return null;
  return (
    <section class="stack">
      <h2>{say('handy.rules_of_thumb')}</h2>
      {rules.map((r) => (
        <div key={r.quantity}>
          <Facts
            title={r.label}
            facts={[
              { label: say('handy.rule'), text: r.rule.text },
              { label: say('handy.sound_now'), text: r.physics_now.text },
            ]}
          />
          {r.where_they_part.map((s) => (
            <p key={s.text} class="small">
              {s.text}
            </p>
          ))}
        </div>
      ))}
    </section>
  );
}

/** The core speaks of a call's entries; the last part of a field's name is the field on this screen. */
export const lastPart = (field: string) => field.replace(/^.*[.,]\s*/, '');

/** What belongs to the refrigerant stands first; what belongs to working on the machine, after the numbers. */
const ofTheFluid = /^caution_(flammable|toxic|class|refrigerant|estimated)/;

export function Targets() {
  const box = useAmount('box', 'temperature');
  const ambient = useAmount('ambient', 'temperature');
  const chosen = app.store.draft('handy.cabinet');
  const { units, ...site } = useSurroundings();
  const cabinets = useAsk('vocabulary', {}).answer?.cabinets ?? [];
  const cabinet = cabinets.find((c) => c.word === chosen.value) ?? cabinets[0];
  const asked = useAsk(
    'expect',
    cabinet && ambient.said
      ? {
          units,
          call: {
            call: 'targets',
            entries: [
              { kind: 'nameplate', cabinet: cabinet.word, refrigerant: refrigerant() },
              { kind: 'site', ambient: ambient.said, ...(box.said && { box: box.said }), ...site },
            ],
          },
        }
      : null,
    250,
  );
  const told = useStanding(asked.problem);
  const problem = told && { ...told, field: lastPart(told.field) };
  const answer = asked.answer;
  const now = answer && partsOf(answer.now);
  return (
    <ToolScreen title={say('handy.targets')}>
      <Headline
        figures={now ? now.figures : null}
        note={now?.ranges}
        waiting={say('handy.targets_waiting')}
      />
      <OtherProblem
        problem={problem}
        fields={['refrigerant', 'ambient', 'box', 'cabinet', 'altitude', 'barometer']}
      />
      <RefrigerantChoice problem={problem} safetyClass={answer?.call.safety_class} />
      <div class="field">
        <label for="cabinet">{say('handy.cabinet')}</label>
        <select
          id="cabinet"
          data-name="cabinet"
          value={cabinet?.word ?? ''}
          onChange={(e) => (chosen.value = e.currentTarget.value)}
        >
          {cabinets.map((c) => (
            <option key={c.word} value={c.word}>
              {c.label}
            </option>
          ))}
        </select>
      </div>
      <AmountField label={say('handy.ambient')} input={ambient} field="ambient" problem={problem} signed />
      <AmountField
        label={say('handy.box')}
        input={box}
        field="box"
        problem={problem}
        hint={cabinet && say('handy.unless_told', { usual: cabinet.set_point[units].text })}
        signed
      />
      <SiteLine pressure={answer?.call.site_pressure.text} problem={problem} />
      <Cautions lines={answer?.cautions.filter((c) => ofTheFluid.test(c.key))} />
      {answer && now && (
        <>
          <Notice>{say('handy.targets_note')}</Notice>
          <Facts title={say('handy.sound_shows')} facts={now.rest} />
          <Facts
            title={say('handy.at_set_point', { box: answer.set_point.box.text })}
            facts={answer.set_point.quantities
              .filter((q) => wanted.includes(q.quantity))
              .map((q) => ({ label: q.label, text: q.interval.text }))}
          />
          <Rules rules={answer.rules_of_thumb} />
          <Cautions lines={answer.cautions.filter((c) => !ofTheFluid.test(c.key))} />
        </>
      )}
      <RestsOn about={answer?.about} />
    </ToolScreen>
  );
}
