// Saturation both ways: the unit typed decides whether the pressure or the temperature is wanted.
import type { UseCases } from '../../../engine/engine';
import { Button } from '../../../parts/parts';
import { useAsk } from '../../../shell/use_ask';
import { say } from '../../../words/words';
import { SiteLine, useSurroundings } from '../../settings/site';
import { AmountField, useAmount } from '../amount_field';
import { Diagram } from '../diagram';
import { useStanding } from '../problems';
import { refrigerant } from '../recent';
import { RefrigerantChoice } from '../refrigerant_choice';
import { breakable, Cautions, Facts, Headline, OtherProblem, RestsOn, ToolScreen, type Said } from '../tool';

type Row = UseCases['saturation']['answer']['rows'][number];

/** What was asked for: of a pure refrigerant one figure, of a blend one at each end. */
export function wanted(row: Row): Said[] {
  const what = row.gave === 'temperature' ? 'pressure' : 'temperature';
  const one = row[what];
  if (one)
    return [
      {
        label: say(what === 'pressure' ? 'handy.saturation_pressure' : 'handy.saturation_temperature'),
        text: one.text,
      },
    ];
  return [
    { label: say('handy.bubble'), text: row.liquid[what].text },
    { label: say('handy.dew'), text: row.vapour[what].text },
  ];
}

export function facts(row: Row): (Said | false)[] {
  const pure = row.pressure_absolute !== undefined;
  const absolute = { label: say('handy.absolute'), text: row.pressure_absolute?.text ?? '' };
  const given = row.gave;
  return [
    {
      label: say(given === 'pressure' ? 'handy.pressure' : 'handy.temperature'),
      text: (row[given] ?? row.vapour[given]).text,
    },
    !!row.glide && { label: say('handy.glide'), text: row.glide.text },
    pure
      ? absolute
      : row.gave === 'temperature' && {
          label: say('handy.absolute_ends'),
          text: `${row.liquid.pressure_absolute.text} – ${row.vapour.pressure_absolute.text}`,
        },
    !pure &&
      row.gave === 'pressure' && {
        label: say('handy.absolute'),
        text: row.vapour.pressure_absolute.text,
      },
    { label: say('handy.latent_heat'), text: row.latent_heat.text },
    { label: say('handy.liquid_density'), text: row.liquid.density.text },
    { label: say('handy.vapour_density'), text: row.vapour.density.text },
  ];
}

export function Saturation() {
  const at = useAmount('saturation.at', 'saturation');
  const place = useSurroundings();
  const fluid = refrigerant();
  const asked = useAsk('saturation', at.said ? { refrigerant: fluid, at: at.said, ...place } : null);
  const problem = useStanding(asked.problem);
  const answer = asked.answer;
  const row = answer?.rows[0];
  const back = row && (row.gave === 'temperature' ? row.pressure : row.temperature);
  return (
    <ToolScreen title={say('handy.saturation')}>
      <Headline figures={row ? wanted(row) : null} waiting={say('handy.saturation_waiting')} />
      <OtherProblem problem={problem} fields={['at', 'refrigerant', 'altitude', 'barometer']} />
      <AmountField label={say('handy.saturation_at')} input={at} field="at" problem={problem} signed />
      <RefrigerantChoice problem={problem} safetyClass={answer?.safety_class} />
      {back && (
        <Button wide icon="swap" onPress={() => at.type(breakable(back.text))} name="turn-round">
          {say('handy.turn_round', { what: back.text })}
        </Button>
      )}
      <SiteLine pressure={answer?.site_pressure.text} problem={problem} />
      <Cautions lines={answer?.cautions} />
      {row && <Facts title={say('handy.at_saturation')} facts={facts(row)} />}
      {row && (
        <Diagram
          request={{
            refrigerant: fluid,
            diagram: 'temperature',
            ...place,
            points: point(row),
          }}
          title={say('handy.saturation_curve')}
        />
      )}
      <RestsOn about={answer?.about} />
    </ToolScreen>
  );
}

/** The point on the curve, of a blend the one at dew; absolute pascals and kelvins, which read alike everywhere. */
export function point(row: Row): { p: string; t: string }[] {
  const { pressure_absolute: p, temperature: t } = row.vapour;
  return p.si === null || t.si === null ? [] : [{ p: `${p.si} Pa`, t: `${t.si} K` }];
}
