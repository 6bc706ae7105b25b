// What the service hoses hold, as vapour and as liquid.
import { Choice } from '../../../parts/parts';
import { app } from '../../../shell/app';
import { useAsk } from '../../../shell/use_ask';
import { say } from '../../../words/words';
import { SiteLine, useSurroundings } from '../../settings/site';
import { AmountField, useAmount } from '../amount_field';
import { useStanding } from '../problems';
import { refrigerant } from '../recent';
import { RefrigerantChoice } from '../refrigerant_choice';
import { Cautions, Facts, Headline, OtherProblem, Remarks, RestsOn, ToolScreen } from '../tool';

const counts = ['1', '2', '3', '4'] as const;

export function HoseContents() {
  const pressure = useAmount('hose.pressure', 'pressure');
  const t = useAmount('hose.t', 'temperature');
  const length = useAmount('hose.length', 'length');
  const bore = useAmount('hose.bore', 'bore');
  const charge = useAmount('charge', 'mass');
  const count = app.store.draft('handy.hose.count');
  const hoses = counts.find((c) => c === count.value) ?? '1';
  const place = useSurroundings();
  const asked = useAsk('hose', {
    refrigerant: refrigerant(),
    hoses: Number(hoses),
    ...(pressure.said && { pressure: pressure.said }),
    ...(t.said && { t: t.said }),
    ...(length.said && { length: length.said }),
    ...(bore.said && { bore: bore.said }),
    ...(charge.said && { charge: charge.said }),
    ...place,
  });
  const problem = useStanding(asked.problem);
  const answer = asked.answer;
  return (
    <ToolScreen title={say('handy.hose')}>
      <Headline
        figures={
          answer && [
            { label: say('handy.as_vapour'), text: answer.vapour.mass.text },
            { label: say('handy.as_liquid'), text: answer.liquid.mass.text },
          ]
        }
        waiting=""
      />
      <OtherProblem
        problem={problem}
        fields={['refrigerant', 'pressure', 't', 'length', 'bore', 'charge', 'altitude', 'barometer']}
      />
      <RefrigerantChoice problem={problem} safetyClass={answer?.safety_class} />
      <Choice
        legend={say('handy.hoses')}
        value={hoses}
        options={counts.map((c) => ({ value: c, label: c }))}
        onChoose={(v) => (count.value = v)}
      />
      <AmountField
        label={say('handy.hose_length')}
        input={length}
        field="length"
        problem={problem}
        hint={say('handy.unless_told', { usual: '5 ft (1.5 m)' })}
      />
      <AmountField
        label={say('handy.hose_bore')}
        input={bore}
        field="bore"
        problem={problem}
        hint={say('handy.unless_told', { usual: '4.8 mm (3/16 in)' })}
      />
      <AmountField
        label={say('handy.hose_pressure')}
        input={pressure}
        field="pressure"
        problem={problem}
        hint={answer && !pressure.said ? say('handy.taken', { what: answer.pressure.text }) : undefined}
      />
      <AmountField
        label={say('handy.hose_temperature')}
        input={t}
        field="t"
        problem={problem}
        hint={answer && !t.said ? say('handy.taken', { what: answer.temperature.text }) : undefined}
        signed
      />
      <AmountField label={say('handy.charge_to_compare')} input={charge} field="charge" problem={problem} />
      <SiteLine pressure={answer?.site_pressure.text} problem={problem} />
      <Cautions lines={answer?.cautions} />
      {answer && (
        <>
          <Remarks lines={answer.statements} />
          <Facts
            facts={[
              answer.vapour.of_charge && {
                label: say('handy.of_charge_vapour'),
                text: answer.vapour.of_charge.text,
              },
              answer.liquid.of_charge && {
                label: say('handy.of_charge_liquid'),
                text: answer.liquid.of_charge.text,
              },
              { label: say('handy.hose_volume'), text: answer.volume.text },
            ]}
          />
        </>
      )}
      <RestsOn about={answer?.about} />
    </ToolScreen>
  );
}
