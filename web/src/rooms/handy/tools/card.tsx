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

type Quantity = Card['rows'][number]['temperature'];
type Column = (row: Card['rows'][number]) => Quantity | null;

/** The columns after the temperature: one of a pure refrigerant, bubble and dew of a blend. */
function columnsOf(card: Card): { title: string; of: Column }[] {
  const of =
    (key: 'pressure' | 'bubble' | 'dew'): Column =>
    (row) => {
      const cell: Partial<Record<typeof key, Quantity | null>> = row.cells[0] ?? {};
      return cell[key] ?? null;
    };
  return card.columns[0]?.blend
    ? [
        { title: card.words.bubble, of: of('bubble') },
        { title: card.words.dew, of: of('dew') },
      ]
    : [{ title: say('handy.pressure'), of: of('pressure') }];
}

/** The unit stands once over the column; a row in another one, such as a vacuum, says its own. */
export function cellText(quantity: Quantity | null, unit: string): string {
  if (!quantity) return none;
  return quantity.unit === unit ? quantity.text.slice(0, -unit.length).trim() : quantity.text;
}

function Table({ card }: { card: Card }) {
  const columns = [
    { title: say('handy.temperature'), of: ((row) => row.temperature) as Column },
    ...columnsOf(card),
  ].map((c) => ({ ...c, unit: c.of(card.rows.findLast((row) => c.of(row)) ?? card.rows[0]!)?.unit ?? '' }));
  return (
    <table class="card-table" data-name="card">
      <thead>
        <tr>
          {columns.map((c) => (
            <th key={c.title} scope="col">
              {c.title}
              <br />
              {c.unit}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {card.rows.map((row) => (
          <tr key={row.temperature.si}>
            {columns.map((c, n) =>
              n === 0 ? (
                <th key={c.title} scope="row" class="number">
                  {cellText(c.of(row), c.unit)}
                </th>
              ) : (
                <td key={c.title} class="number">
                  {cellText(c.of(row), c.unit)}
                </td>
              ),
            )}
          </tr>
        ))}
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
