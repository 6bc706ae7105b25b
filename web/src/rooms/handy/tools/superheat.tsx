// Superheat and subcooling from a gauge and a thermometer at each side.
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

type Answer = UseCases['superheat']['answer'];
/** A side that wasn't read is null. */
type Side = Answer['superheat'] | null;

function figure(side: Side, label: string): Said[] {
  return side ? [{ label, text: side.difference.mid.text }] : [];
}

function SideFacts({ side, title, saturation }: { side: Side; title: string; saturation: string }) {
  if (!side) return null;
  return (
    <Facts
      title={title}
      facts={[
        { label: say('handy.range_of'), text: side.difference.text },
        { label: saturation, text: side.saturation.text },
      ]}
    />
  );
}

export function Superheat() {
  const suctionPressure = useAmount('suction_pressure', 'pressure');
  const suctionTemperature = useAmount('suction_temperature', 'temperature');
  const headPressure = useAmount('head_pressure', 'pressure');
  const liquidTemperature = useAmount('liquid_temperature', 'temperature');
  const place = useSurroundings();
  const suction = suctionPressure.said &&
    suctionTemperature.said && {
      suction_pressure: suctionPressure.said,
      suction_temperature: suctionTemperature.said,
    };
  const head = headPressure.said &&
    liquidTemperature.said && {
      head_pressure: headPressure.said,
      liquid_temperature: liquidTemperature.said,
    };
  const asked = useAsk(
    'superheat',
    suction || head ? { refrigerant: refrigerant(), ...suction, ...head, ...place } : null,
  );
  const problem = useStanding(asked.problem);
  const answer = asked.answer;
  const figures = answer && [
    ...figure(answer.superheat, say('handy.superheat_figure')),
    ...figure(answer.subcooling, say('handy.subcooling')),
  ];
  const odd =
    !!answer && [answer.superheat, answer.subcooling].some((side) => side && side.state !== 'single_phase');
  const blend = !!answer?.glide;
  return (
    <ToolScreen title={say('handy.superheat')}>
      <Headline figures={figures} waiting={say('handy.superheat_waiting')} />
      <OtherProblem
        problem={problem}
        fields={[
          'suction_pressure',
          'suction_temperature',
          'head_pressure',
          'liquid_temperature',
          'refrigerant',
          'altitude',
          'barometer',
        ]}
      />
      <RefrigerantChoice problem={problem} safetyClass={answer?.safety_class} />
      <AmountField
        label={say('handy.suction_pressure')}
        input={suctionPressure}
        field="suction_pressure"
        problem={problem}
      />
      <AmountField
        label={say('handy.suction_temperature')}
        input={suctionTemperature}
        field="suction_temperature"
        problem={problem}
        signed
      />
      <AmountField
        label={say('handy.head_pressure')}
        input={headPressure}
        field="head_pressure"
        problem={problem}
      />
      <AmountField
        label={say('handy.liquid_temperature')}
        input={liquidTemperature}
        field="liquid_temperature"
        problem={problem}
        signed
      />
      <SiteLine pressure={answer?.site_pressure.text} problem={problem} />
      <Cautions lines={answer?.cautions} />
      {answer && (
        <>
          <Notice tone={odd ? 'warn' : 'note'}>
            {answer.statements.map((s) => (
              <p key={s.text}>{s.text}</p>
            ))}
          </Notice>
          <SideFacts
            side={answer.superheat}
            title={say('handy.superheat_figure')}
            saturation={say(blend ? 'handy.dew' : 'handy.saturation_temperature')}
          />
          <SideFacts
            side={answer.subcooling}
            title={say('handy.subcooling')}
            saturation={say(blend ? 'handy.bubble' : 'handy.saturation_temperature')}
          />
          {answer.glide && <Facts facts={[{ label: say('handy.glide'), text: answer.glide.text }]} />}
        </>
      )}
      <RestsOn about={answer?.about} />
    </ToolScreen>
  );
}
