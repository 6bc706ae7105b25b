// Standing pressure: what a machine at rest should show at this temperature, and at another.
import type { UseCases } from '../../../engine/engine';
import { Notice } from '../../../parts/parts';
import { useAsk } from '../../../shell/use_ask';
import { say } from '../../../words/words';
import { SiteLine, useSurroundings } from '../../settings/site';
import { AmountField, useAmount } from '../amount_field';
import { useStanding } from '../problems';
import { refrigerant } from '../recent';
import { RefrigerantChoice } from '../refrigerant_choice';
import { Cautions, Facts, Headline, OtherProblem, RestsOn, ToolScreen, type Said } from '../tool';

type Answer = UseCases['standing']['answer'];

function figures(answer: Answer): Said[] {
  const { reading } = answer;
  const stands = {
    above: 'handy.stands_above',
    within: 'handy.stands_within',
    below: 'handy.stands_below',
  } as const;
  return [
    { label: say('handy.standing_expected'), text: answer.expected.mid.text },
    ...(reading ? [{ label: say(stands[reading.stands]), text: reading.excess.text }] : []),
  ];
}

export function StandingPressure() {
  const t = useAmount('standing.t', 'temperature');
  const pressure = useAmount('standing.pressure', 'pressure');
  const to = useAmount('standing.to', 'temperature');
  const spread = useAmount('standing.spread', 'difference');
  const place = useSurroundings();
  const asked = useAsk(
    'standing',
    t.said
      ? {
          refrigerant: refrigerant(),
          t: t.said,
          ...(pressure.said && { pressure: pressure.said }),
          ...(to.said && { to: to.said }),
          ...(spread.said && { spread: spread.said }),
          ...place,
        }
      : null,
  );
  const problem = useStanding(asked.problem);
  const answer = asked.answer;
  return (
    <ToolScreen title={say('handy.standing')}>
      <Headline
        figures={answer && figures(answer)}
        note={answer?.expected.text}
        waiting={say('handy.standing_waiting')}
      />
      <OtherProblem
        problem={problem}
        fields={['refrigerant', 't', 'pressure', 'to', 'spread', 'altitude', 'barometer']}
      />
      <RefrigerantChoice problem={problem} safetyClass={answer?.safety_class} />
      <AmountField label={say('handy.rest_temperature')} input={t} field="t" problem={problem} signed />
      <AmountField label={say('handy.rest_pressure')} input={pressure} field="pressure" problem={problem} />
      <AmountField label={say('handy.other_temperature')} input={to} field="to" problem={problem} signed />
      <AmountField
        label={say('handy.spread')}
        input={spread}
        field="spread"
        problem={problem}
        hint={say('handy.unless_told', { usual: '1.5 K (2.7 °F)' })}
      />
      <SiteLine pressure={answer?.site_pressure.text} problem={problem} />
      {answer && (
        <Notice tone={answer.reading && answer.reading.stands !== 'within' ? 'warn' : 'note'}>
          {answer.statements.map((s) => (
            <p key={s.text}>{s.text}</p>
          ))}
        </Notice>
      )}
      <Cautions lines={answer?.cautions} />
      {answer?.moved && (
        <Facts
          title={say('handy.moved_to', { to: answer.moved.temperature.text })}
          facts={[
            { label: say('handy.moved_liquid'), text: answer.moved.liquid.text },
            { label: say('handy.moved_gas'), text: answer.moved.gas.text },
          ]}
        />
      )}
      {answer?.reading?.saturation && (
        <Facts facts={[{ label: say('handy.saturated_reading'), text: answer.reading.saturation.text }]} />
      )}
      <RestsOn about={answer?.about} />
    </ToolScreen>
  );
}
