// What a leak does to a blend, and what topping up gives.
import type { UseCases } from '../../../engine/engine';
import { Choice } from '../../../parts/parts';
import { app } from '../../../shell/app';
import { useAsk } from '../../../shell/use_ask';
import { say } from '../../../words/words';
import { SiteLine, useSurroundings } from '../../settings/site';
import { AmountField, useAmount } from '../amount_field';
import { useStanding } from '../problems';
import { refrigerant } from '../recent';
import { RefrigerantChoice } from '../refrigerant_choice';
import { breakable, Cautions, Headline, OtherProblem, RestsOn, ToolScreen } from '../tool';

type Leak = UseCases['leak']['answer'];

function Mixtures({ leak }: { leak: Leak }) {
  const columns = [leak.as_sold, leak.left, leak.topped_up];
  return (
    <div class="wide-table">
      <table>
        <thead>
          <tr>
            <td />
            <th scope="col">{say('handy.as_sold')}</th>
            <th scope="col">{say('handy.left')}</th>
            <th scope="col">{say('handy.topped_up')}</th>
          </tr>
        </thead>
        <tbody>
          {leak.as_sold.composition.map((c, i) => (
            <tr key={c.designation}>
              <th scope="row">{c.designation}</th>
              {columns.map((column, n) => (
                <td key={n} class="number">
                  {column.composition[i]?.share.text}
                </td>
              ))}
            </tr>
          ))}
          <tr>
            <th scope="row">{say('handy.bubble')}</th>
            {columns.map((column, n) => (
              <td key={n} class="number">
                {breakable(column.bubble_pressure.text)}
              </td>
            ))}
          </tr>
          <tr>
            <th scope="row">{say('handy.dew')}</th>
            {columns.map((column, n) => (
              <td key={n} class="number">
                {breakable(column.dew_pressure.text)}
              </td>
            ))}
          </tr>
        </tbody>
      </table>
    </div>
  );
}

export function LeakOfBlend() {
  const lost = useAmount('leak.lost', 'share');
  const t = useAmount('leak.t', 'temperature');
  const liquid = useAmount('leak.liquid', 'share');
  const from = app.store.draft('handy.leak.from');
  const place = useSurroundings();
  const asked = useAsk(
    'leak',
    {
      refrigerant: refrigerant(),
      ...(lost.said && { lost: lost.said }),
      ...(t.said && { t: t.said }),
      ...(liquid.said && { liquid: liquid.said }),
      from: from.value === 'liquid' ? 'liquid' : 'vapour',
      ...place,
    },
    200,
  );
  const problem = useStanding(asked.problem);
  const leak = asked.answer;
  return (
    <ToolScreen title={say('handy.leak')}>
      <Headline
        figures={
          leak && [
            { label: say('handy.dew_as_sold'), text: leak.as_sold.dew_pressure.text },
            { label: say('handy.dew_left'), text: leak.left.dew_pressure.text },
          ]
        }
        note={leak && say('handy.leak_note', { lost: leak.lost.text, at: leak.temperature.text })}
        waiting={say('handy.leak_waiting')}
      />
      <OtherProblem
        problem={problem}
        fields={['refrigerant', 'lost', 't', 'liquid', 'altitude', 'barometer']}
      />
      <RefrigerantChoice problem={problem} safetyClass={leak?.safety_class} />
      <AmountField
        label={say('handy.lost')}
        input={lost}
        field="lost"
        problem={problem}
        hint={say('handy.lost_hint')}
      />
      <Choice
        legend={say('handy.leaks_from')}
        value={from.value === 'liquid' ? 'liquid' : 'vapour'}
        options={[
          { value: 'vapour', label: say('handy.vapour') },
          { value: 'liquid', label: say('handy.liquid') },
        ]}
        onChoose={(v) => (from.value = v)}
      />
      <AmountField
        label={say('handy.standing_at')}
        input={t}
        field="t"
        problem={problem}
        hint={say('handy.t_hint')}
        signed
      />
      <AmountField
        label={say('handy.liquid_share')}
        input={liquid}
        field="liquid"
        problem={problem}
        hint={say('handy.liquid_hint')}
      />
      <SiteLine pressure={leak?.site_pressure.text} problem={problem} />
      <Cautions lines={leak?.cautions} />
      {leak && <Mixtures leak={leak} />}
      <RestsOn about={leak?.about} />
    </ToolScreen>
  );
}
