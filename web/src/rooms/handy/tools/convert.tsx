// One amount in every unit of its kind.
import type { UseCases } from '../../../engine/engine';
import { app } from '../../../shell/app';
import { prefs } from '../../../shell/prefs';
import { useAsk } from '../../../shell/use_ask';
import { say } from '../../../words/words';
import { SiteLine, useSurroundings } from '../../settings/site';
import { AmountField, useAmount } from '../amount_field';
import { useStanding } from '../problems';
import { Headline, OtherProblem, Remarks, RestsOn, ToolScreen } from '../tool';
import { usualUnit, type Amount } from '../units';

type Kind = UseCases['quantity']['request']['kind'];
type Quantity = UseCases['quantity']['answer']['value'];

/** What there is to convert, and the units offered for it. */
const kinds = {
  temperature: 'temperature',
  temperature_difference: 'difference',
  pressure: 'any_pressure',
  pressure_difference: 'pressure_difference',
  mass: 'mass',
  length: 'any_length',
  volume: 'volume',
  area: 'area',
  volume_flow: 'volume_flow',
  power: 'power',
  resistance: 'resistance',
  time: 'time',
} as const satisfies Partial<Record<Kind, Amount>>;
type Convertible = keyof typeof kinds;
const order = Object.keys(kinds) as Convertible[];
const signed: readonly Convertible[] = ['temperature', 'temperature_difference', 'pressure'];

/** The one that stands big: in the other system's usual unit, else the first that isn't what was typed. */
export function counterpart(same: readonly Quantity[], given: string, wanted: string): Quantity | undefined {
  return same.find((q) => q.unit === wanted && q.unit !== given) ?? same.find((q) => q.unit !== given);
}

export function Convert() {
  const chosen = app.store.draft('handy.convert.kind');
  const kind = order.find((k) => k === chosen.value) ?? 'temperature';
  const amount = useAmount(`convert.${kind}`, kinds[kind]);
  const place = useSurroundings();
  const asked = useAsk(
    'quantity',
    amount.said
      ? { kind, text: amount.said, ...(amount.chip && { default_unit: amount.chip }), ...place }
      : null,
  );
  const problem = useStanding(asked.problem);
  const answer = asked.answer;
  const system = prefs.units.value;
  const given = answer?.value.unit ?? '';
  const own = usualUnit(kinds[kind], system);
  const other = usualUnit(kinds[kind], system === 'us' ? 'metric' : 'us');
  const big = answer && counterpart(answer.same, given, given === own ? other : own);
  return (
    <ToolScreen title={say('handy.convert')}>
      <Headline
        figures={big ? [{ label: answer.value.text, text: big.text }] : null}
        waiting={say('handy.convert_waiting')}
      />
      <OtherProblem problem={problem} fields={['text', 'altitude', 'barometer']} />
      <div class="field">
        <label for="convert-kind">{say('handy.kind')}</label>
        <select
          id="convert-kind"
          data-name="kind"
          value={kind}
          onChange={(e) => (chosen.value = e.currentTarget.value)}
        >
          {order.map((k) => (
            <option key={k} value={k}>
              {say(`handy.kind_${k}`)}
            </option>
          ))}
        </select>
      </div>
      <AmountField
        label={say('handy.amount')}
        input={amount}
        field="text"
        problem={problem}
        signed={signed.includes(kind)}
      />
      {(kind === 'pressure' || kind === 'pressure_difference') && (
        <SiteLine pressure={answer?.site_pressure.text} problem={problem} />
      )}
      {answer && (
        <>
          <Remarks lines={answer.remarks} />
          <ul class="same" aria-label={say('handy.same_in')} data-name="same">
            {answer.same.map((q) => (
              <li key={q.unit}>{q.text}</li>
            ))}
          </ul>
        </>
      )}
      <RestsOn about={answer?.about} />
    </ToolScreen>
  );
}
