// In the read stage: the ways to a series and to logger files, what came from traces, and the way to take it out again.
import { Button } from '../../parts/parts';
import { href } from '../../shell/route';
import type { OpenCall } from '../../store/store';
import { moment, say, sayCount } from '../../words/words';
import { takenOf, takeOut } from './take';

function TakenTraces({ call }: { call: OpenCall }) {
  const taken = takenOf(call);
  return (
    <>
      {taken.map((t) => (
        <div class="panel taken-trace" key={t.entry.id} data-name="taken-trace">
          <p>
            <strong data-own-words>{t.files.join(', ')}</strong>
            <span class="quiet small">
              {' '}
              {sayCount('trace.taken', t.stand.length)} · {moment(t.entry.at)}
            </span>
          </p>
          <Button icon="undo" onPress={() => void takeOut(call, t)} name="take-out">
            {say('trace.take_out')}
          </Button>
        </div>
      ))}
    </>
  );
}

export function ToSeries({ call }: { call: OpenCall }) {
  const to = (part: string) => href({ room: 'call', id: call.id, stage: 'read', part });
  return (
    <section class="stack" aria-label={say('trace.over_time')}>
      <h2>{say('trace.over_time')}</h2>
      <TakenTraces call={call} />
      <Button wide icon="clock" href={to('series')} name="to-series">
        {say('trace.type_series')}
      </Button>
      <Button wide icon="bring" href={to('trace')} name="to-trace">
        {say('trace.open_log')}
      </Button>
    </section>
  );
}
