// The trace small beside a reading, and large in a sheet.
import { useEffect, useRef, useState } from 'preact/hooks';
import { Sheet } from '../../../parts/parts';
import { prefs } from '../../../shell/prefs';
import { moment, say, sayCount } from '../../../words/words';
import type { Entry } from '../../../store/store';
import { lineOf, traceOf, type Trace } from './trace';

function Plot({ trace, label }: { trace: Trace; label: string }) {
  const place = useRef<HTMLDivElement>(null);
  useEffect(() => {
    let gone = false;
    let remove = () => {};
    void import('./trace_plot').then(({ plot }) => {
      if (!gone && place.current) remove = plot(place.current, trace, label, prefs.language.peek());
    });
    return () => {
      gone = true;
      remove();
    };
  }, [trace]);
  return <div class="trace-plot" ref={place} aria-hidden="true" />;
}

export function TraceView({ list, label }: { list: readonly Entry[]; label: string }) {
  const [large, setLarge] = useState(false);
  const trace = traceOf(list);
  if (list.length < 2) return null;
  const small = trace && (
    <svg class="trace" viewBox="-4 -4 88 28" aria-hidden="true">
      <polyline points={lineOf(trace, 80, 20)} />
    </svg>
  );
  return (
    <>
      <button
        type="button"
        class="button bare trace-button"
        onClick={() => setLarge(true)}
        aria-label={`${label}: ${sayCount('call.times', list.length)}`}
      >
        {small}
        <span class="small">{sayCount('call.times', list.length)}</span>
      </button>
      {large && (
        <Sheet title={label} onClose={() => setLarge(false)}>
          {trace && list.length > 2 && <Plot trace={trace} label={label} />}
          {!trace && <p class="quiet">{say('call.trace_units')}</p>}
          <table class="trace-table">
            <tbody>
              {list.map((e) => (
                <tr key={e.id}>
                  <th scope="row">{moment(e.at)}</th>
                  <td class="number">{String(e.value)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </Sheet>
      )}
    </>
  );
}
