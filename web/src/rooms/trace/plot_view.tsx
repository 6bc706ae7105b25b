// The plot with what belongs to it: which readings are shown, the moment that was tapped in words and numbers, the
// keys that come nearer and go along, what the patterns mean.
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { prefs } from '../../shell/prefs';
import { number, say } from '../../words/words';
import { momentText } from './clock_marks';
import { letterOf, paints, type State } from './paint';
import { plotLanes, type Plot, type PlotLane } from './plot';
import { stretched, valueAt, type View } from './window';

interface NamedBand {
  from: number;
  to: number;
  state: State;
  label: string;
}

function Swatch({ state }: { state: State }) {
  const canvas = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    const place = canvas.current!;
    const ratio = devicePixelRatio || 1;
    [place.width, place.height] = [44 * ratio, 24 * ratio];
    const pen = place.getContext('2d');
    if (!pen) return;
    const paint = paints(ratio)[state];
    pen.fillStyle = paint.fill;
    pen.fillRect(0, 0, place.width, place.height);
    pen.fillStyle = paint.colour;
    pen.fillRect(0, place.height - 4 * ratio, place.width, 4 * ratio);
  }, [state, prefs.theme.value]);
  return <canvas ref={canvas} class="swatch" aria-hidden="true" />;
}

/** The pattern and letter of a state, its name beside them. */
export function StateMark({ state, label }: { state: State; label: string }) {
  return (
    <span class="state-mark">
      <Swatch state={state} />
      <strong class="letter" aria-hidden="true">
        {letterOf(state)}
      </strong>
      <span>{label}</span>
    </span>
  );
}

function Keys({ whole, view, show }: { whole: number; view: View; show: (view: View) => void }) {
  const length = view.to - view.from;
  const middle = (view.from + view.to) / 2;
  const along = (by: number) => show({ from: view.from + by * length, to: view.to + by * length });
  const all = length >= whole - 1e-6;
  const keys = [
    { name: 'nearer', sign: '+', act: () => show(stretched(view, middle, 0.5)), off: false },
    { name: 'farther', sign: '−', act: () => show(stretched(view, middle, 2)), off: all },
    { name: 'earlier', sign: '◀', act: () => along(-0.5), off: view.from <= 0 },
    { name: 'later', sign: '▶', act: () => along(0.5), off: view.to >= whole - 1e-6 },
  ] as const;
  return (
    <div class="plot-keys" role="group" aria-label={say('trace.plot_keys')}>
      {keys.map((k) => (
        <button
          key={k.name}
          type="button"
          class="button"
          aria-label={say(`trace.${k.name}`)}
          disabled={k.off}
          onClick={k.act}
          data-name={`plot-${k.name}`}
        >
          {k.sign}
        </button>
      ))}
      <button
        type="button"
        class="button whole"
        disabled={all}
        onClick={() => show({ from: 0, to: whole })}
        data-name="plot-whole"
      >
        {say('trace.whole')}
      </button>
    </div>
  );
}

function Legend({ bands }: { bands: readonly NamedBand[] }) {
  const states = [...new Map(bands.map((b) => [b.state, b.label]))];
  if (states.length === 0) return null;
  return (
    <ul class="legend small" aria-label={say('trace.phases')}>
      {states.map(([state, label]) => (
        <li key={state}>
          <StateMark state={state} label={label} />
        </li>
      ))}
    </ul>
  );
}

export function PlotView({
  lanes,
  bands,
  start,
  whole,
  dots,
  wanted,
}: {
  /** the most telling first */
  lanes: readonly PlotLane[];
  bands: readonly NamedBand[];
  start: number | null;
  whole: number;
  dots?: boolean;
  /** a stretch to show; a new object moves the plot there */
  wanted?: View | null;
}) {
  const place = useRef<HTMLDivElement>(null);
  const plot = useRef<Plot | null>(null);
  const [hidden, setHidden] = useState<ReadonlySet<number>>(new Set(lanes.map((_, i) => i).slice(3)));
  const [view, setView] = useState<View>({ from: 0, to: whole });
  const [marked, setMarked] = useState<number | null>(null);
  const shown = useMemo(() => lanes.filter((_, i) => !hidden.has(i)), [lanes, hidden]);
  const theme = document.documentElement.dataset.theme;
  const language = prefs.language.value;
  void prefs.theme.value;

  const before = useRef({ lanes, whole });
  useEffect(() => {
    const same = before.current.lanes === lanes;
    before.current = { lanes, whole };
    plot.current = plotLanes(place.current!, {
      ...{ lanes: shown, bands, start, whole, language, dots: dots ?? false },
      height: shown.length > 2 ? 96 : shown.length === 2 ? 120 : 180,
      ...(same ? { view, marked } : {}),
      onView: setView,
      onMark: setMarked,
    });
    if (!same) setView({ from: 0, to: whole });
    return () => plot.current?.destroy();
  }, [shown, bands, start, whole, language, theme]);
  useEffect(() => plot.current?.mark(marked), [marked]);
  useEffect(() => {
    if (!wanted) return;
    plot.current?.show(wanted);
    place.current?.scrollIntoView({ block: 'center' });
  }, [wanted]);

  const phase = marked === null ? undefined : bands.find((b) => b.from <= marked && marked < b.to);
  return (
    <section class="plot-view stack" aria-label={say('trace.plot')}>
      {lanes.length > 1 && (
        <div class="lane-choice" role="group" aria-label={say('trace.shown')}>
          {lanes.map((l, i) => (
            <button
              key={i}
              type="button"
              class="toggle"
              aria-pressed={!hidden.has(i)}
              disabled={!hidden.has(i) && shown.length === 1}
              onClick={() => {
                const next = new Set(hidden);
                if (!next.delete(i)) next.add(i);
                setHidden(next);
              }}
            >
              {l.label}
            </button>
          ))}
        </div>
      )}
      <output class="readout" data-name="readout">
        {marked === null ? (
          <span class="quiet small">{say('trace.tap_plot')}</span>
        ) : (
          <>
            <strong>{momentText(marked, start, language)}</strong>
            {phase && <span>{phase.label}</span>}
            {shown.map((l) => {
              const value = valueAt(l.lane, marked);
              return (
                <span key={l.label}>
                  {l.label}{' '}
                  <strong class="number">{value === null ? '–' : `${number(value)} ${l.unit}`}</strong>
                </span>
              );
            })}
          </>
        )}
      </output>
      <div
        class="plot"
        ref={place}
        data-name="plot"
        data-from={view.from}
        data-to={view.to}
        aria-hidden="true"
      />
      <Keys whole={whole} view={view} show={(to) => plot.current?.show(to)} />
      <Legend bands={bands} />
    </section>
  );
}
