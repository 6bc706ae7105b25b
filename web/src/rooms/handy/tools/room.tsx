// Charge and room: what all of a burning charge would come to in the air of a room.
import { Notice } from '../../../parts/parts';
import { useAsk } from '../../../shell/use_ask';
import { say } from '../../../words/words';
import { SiteLine, useSurroundings } from '../../settings/site';
import { AmountField, useAmount } from '../amount_field';
import { useStanding } from '../problems';
import { refrigerant } from '../recent';
import { RefrigerantChoice } from '../refrigerant_choice';
import { Cautions, Facts, Headline, OtherProblem, RestsOn, ToolScreen } from '../tool';
import { isVolume, unitOf } from '../units';

export function ChargeAndRoom() {
  const charge = useAmount('charge', 'mass');
  const size = useAmount('room.size', 'room');
  const height = useAmount('room.height', 'length');
  const share = useAmount('room.share', 'share');
  const t = useAmount('room.t', 'temperature');
  const place = useSurroundings();
  const byVolume = size.said !== null && isVolume(unitOf(size.said));
  const asked = useAsk(
    'room',
    charge.said
      ? {
          refrigerant: refrigerant(),
          charge: charge.said,
          ...(size.said && (byVolume ? { volume: size.said } : { area: size.said })),
          // The height only turns a floor into a volume.
          ...(height.said && !byVolume && { height: height.said }),
          ...(share.said && { share: share.said }),
          ...(t.said && { t: t.said }),
          ...place,
        }
      : null,
  );
  const problem = useStanding(asked.problem);
  const answer = asked.answer;
  const room = answer?.room;
  return (
    <ToolScreen title={say('handy.room')}>
      <Headline
        figures={
          answer &&
          (room
            ? [
                { label: say('handy.of_limit'), text: room.of_limit.text },
                { label: say('handy.largest_charge'), text: room.largest_charge.text },
              ]
            : [
                { label: say('handy.smallest_area'), text: answer.smallest_area.text },
                { label: say('handy.smallest_volume'), text: answer.smallest_volume.text },
              ])
        }
        note={answer && say('handy.at_share', { share: answer.share.text })}
        waiting={say('handy.room_waiting')}
      />
      <OtherProblem
        problem={problem}
        fields={['refrigerant', 'charge', 'area', 'volume', 'height', 'share', 't', 'altitude', 'barometer']}
      />
      <RefrigerantChoice problem={problem} safetyClass={answer?.safety_class} />
      <AmountField label={say('handy.charge')} input={charge} field="charge" problem={problem} />
      <AmountField
        label={say('handy.room_size')}
        input={size}
        field={byVolume ? 'volume' : 'area'}
        problem={problem}
      />
      {!byVolume && (
        <AmountField
          label={say('handy.room_height')}
          input={height}
          field="height"
          problem={problem}
          hint={say('handy.unless_told', { usual: answer?.height.text ?? '2.2 m' })}
        />
      )}
      <AmountField
        label={say('handy.share_of_limit')}
        input={share}
        field="share"
        problem={problem}
        hint={say('handy.unless_told', { usual: '25 %' })}
      />
      <AmountField
        label={say('handy.air_temperature')}
        input={t}
        field="t"
        problem={problem}
        hint={say('handy.unless_told', { usual: '20 °C (68 °F)' })}
        signed
      />
      <SiteLine pressure={answer?.site_pressure.text} problem={problem} />
      <Cautions lines={answer?.cautions} />
      {answer && (
        <>
          <Notice tone={room && !room.within ? 'warn' : 'note'}>
            {answer.statements.map((s) => (
              <p key={s.text}>{s.text}</p>
            ))}
          </Notice>
          <Facts
            facts={[
              { label: say('handy.lower_limit'), text: answer.limit.density.text },
              { label: say('handy.limit_source'), text: answer.limit.edition },
            ]}
          />
          {answer.customary.length > 0 && (
            <section class="stack">
              <h2>{say('handy.customary')}</h2>
              <ul class="verdicts">
                {answer.customary.map((c) => (
                  <li key={c.key}>
                    <span>{c.text}</span>
                    <strong>{say(c.within ? 'handy.within' : 'handy.above')}</strong>
                  </li>
                ))}
              </ul>
            </section>
          )}
        </>
      )}
      <RestsOn about={answer?.about} />
    </ToolScreen>
  );
}
