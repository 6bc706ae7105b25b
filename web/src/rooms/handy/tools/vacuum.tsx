// Vacuum against temperature: at which water still boils away, and whether the coldest wall lets it.
import { Notice } from '../../../parts/parts';
import { prefs } from '../../../shell/prefs';
import { useAsk } from '../../../shell/use_ask';
import { say } from '../../../words/words';
import { SiteLine, useSurroundings } from '../../settings/site';
import { AmountField, useAmount } from '../amount_field';
import { useStanding } from '../problems';
import { Headline, OtherProblem, RestsOn, ToolScreen } from '../tool';
import { isTemperature, unitOf, usualUnit } from '../units';

export function Vacuum() {
  const at = useAmount('vacuum.at', 'deep_vacuum');
  const wall = useAmount('vacuum.wall', 'temperature');
  const place = useSurroundings();
  const cold = at.said !== null && isTemperature(unitOf(at.said));
  const asked = useAsk(
    'vacuum',
    at.said
      ? {
          ...(cold ? { t: at.said } : { pressure: at.said }),
          ...(wall.said && { wall: wall.said }),
          ...place,
        }
      : null,
  );
  const problem = useStanding(asked.problem);
  const answer = asked.answer;
  const usual = usualUnit('deep_vacuum', prefs.units.value);
  const vacuum = answer?.pressure.find((p) => p.unit === usual) ?? answer?.pressure[0];
  const ice = answer?.form === 'ice';
  return (
    <ToolScreen title={say('handy.vacuum')}>
      <Headline
        figures={
          answer && [
            cold
              ? {
                  label: say(ice ? 'handy.ice_leaves_below' : 'handy.water_boils_below'),
                  text: vacuum?.text ?? '',
                }
              : {
                  label: say(ice ? 'handy.ice_leaves_at' : 'handy.water_boils_at'),
                  text: answer.temperature.text,
                },
          ]
        }
        waiting={say('handy.vacuum_waiting')}
      />
      <OtherProblem problem={problem} fields={['pressure', 't', 'wall', 'altitude', 'barometer']} />
      <AmountField
        label={say('handy.vacuum_at')}
        input={at}
        field={cold ? 't' : 'pressure'}
        problem={problem}
        signed
      />
      <AmountField
        label={say('handy.wall')}
        input={wall}
        field="wall"
        problem={problem}
        hint={say('handy.wall_hint')}
        signed
      />
      <SiteLine problem={problem} />
      {answer && answer.statements.length > 0 && (
        <Notice tone={answer.boils === false ? 'warn' : 'note'}>
          {answer.statements.map((s) => (
            <p key={s.text}>{s.text}</p>
          ))}
        </Notice>
      )}
      {answer && (
        <ul class="same" aria-label={say('handy.same_in')}>
          {answer.pressure.map((q) => (
            <li key={q.unit}>{q.text}</li>
          ))}
        </ul>
      )}
      <RestsOn about={answer?.about} />
    </ToolScreen>
  );
}
