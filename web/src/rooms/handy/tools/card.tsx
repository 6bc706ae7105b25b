// Pressure against temperature as a table, of the refrigerant in use.
import type { UseCases } from '../../../engine/engine';
import { Disclosure } from '../../../parts/parts';
import { useAsk } from '../../../shell/use_ask';
import { say } from '../../../words/words';
import { SiteLine, useSurroundings } from '../../settings/site';
import { AmountField, useAmount } from '../amount_field';
import { useStanding } from '../problems';
import { refrigerant } from '../recent';
import { RefrigerantChoice } from '../refrigerant_choice';
import { Cautions, OtherProblem, Remarks, RestsOn, ToolScreen } from '../tool';

type Card = UseCases['card']['answer'];
const none = '–';

/** Notes of the printed card that speak of its print stay on it. */
const ofThePrint = ['pressures_us', 'pressures_metric'];

function Table({ card }: { card: Card }) {
  const blend = card.columns[0]?.blend;
  return (
    <table class="card-table" data-name="card">
      <thead>
        <tr>
          <th scope="col">{say('handy.temperature')}</th>
          {blend ? (
            <>
              <th scope="col">{card.words.bubble}</th>
              <th scope="col">{card.words.dew}</th>
            </>
          ) : (
            <th scope="col">{say('handy.pressure')}</th>
          )}
        </tr>
      </thead>
      <tbody>
        {card.rows.map((row) => {
          const cell = row.cells[0]!;
          return (
            <tr key={row.temperature.si}>
              <th scope="row" class="number">
                {row.temperature.text}
              </th>
              {'pressure' in cell ? (
                <td class="number">{cell.pressure?.text ?? none}</td>
              ) : (
                <>
                  <td class="number">{cell.bubble?.text ?? none}</td>
                  <td class="number">{cell.dew?.text ?? none}</td>
                </>
              )}
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

export function PressureCard() {
  const from = useAmount('card.from', 'temperature');
  const to = useAmount('card.to', 'temperature');
  const place = useSurroundings();
  const asked = useAsk(
    'card',
    {
      refrigerants: [refrigerant()],
      ...(from.said && { from: from.said }),
      ...(to.said && { to: to.said }),
      ...place,
    },
    200,
  );
  const problem = useStanding(asked.problem);
  const card = asked.answer;
  return (
    <ToolScreen title={say('handy.card')}>
      <RefrigerantChoice
        problem={problem}
        safetyClass={card?.columns[0]?.safety_class}
        field="refrigerants"
      />
      <OtherProblem problem={problem} fields={['refrigerants', 'from', 'to']} />
      <Cautions lines={card?.cautions} />
      <Disclosure summary={say('handy.card_range')}>
        <div class="pair">
          <AmountField label={say('handy.card_from')} input={from} field="from" problem={problem} signed />
          <AmountField label={say('handy.card_to')} input={to} field="to" problem={problem} signed />
        </div>
        <SiteLine pressure={card?.site_pressure.text} problem={problem} />
      </Disclosure>
      {card && (
        <>
          <Table card={card} />
          <Remarks lines={card.notes.filter((n) => !ofThePrint.includes(n.key))} />
        </>
      )}
      <RestsOn about={card?.about} />
    </ToolScreen>
  );
}
