// A plot with its key in words; the numbers stand in the list of readings and the tables beside it.
import { useEffect, useRef } from 'preact/hooks';
import { prefs } from '../../../shell/prefs';
import type { Curve, CurveLine } from './answer_types';

const marks: Record<string, string> = { measured: '●', limit: '╌', low: '┄', high: '┄' };

/** As curve_plot.ts draws it. */
function markOf(curve: Curve, line: CurveLine): string {
  if (line.kind === 'measured' && curve.lines.find((l) => l.kind === 'measured') !== line) return '○';
  return marks[line.kind] ?? '━';
}

export function CurveView({ curve }: { curve: Curve }) {
  const place = useRef<HTMLDivElement>(null);
  const drawn = JSON.stringify([curve, prefs.theme.value, prefs.language.value]);
  useEffect(() => {
    let gone = false;
    let remove = () => {};
    void import('./curve_plot').then(({ plotCurve }) => {
      if (!gone && place.current) remove = plotCurve(place.current, curve, prefs.language.peek());
    });
    return () => {
      gone = true;
      remove();
    };
  }, [drawn]);
  return (
    <figure class="curve" data-name={`curve:${curve.key}`}>
      <figcaption>
        <strong>{curve.label}</strong>
        <ul class="row small quiet">
          {curve.lines
            .filter((l) => l.points.length > 0)
            .map((l) => (
              <li key={l.key}>
                <span aria-hidden="true">{markOf(curve, l)}</span> {l.label}
              </li>
            ))}
        </ul>
      </figcaption>
      <div class="curve-plot" ref={place} aria-hidden="true" />
    </figure>
  );
}
