// The large trace, drawn by uPlot; loaded only when it is looked at.
import uPlot from 'uplot';
import 'uplot/dist/uPlot.min.css';
import type { Trace } from './trace';

export function plot(place: HTMLElement, trace: Trace, label: string, language: string): () => void {
  const colour = (name: string) => getComputedStyle(document.documentElement).getPropertyValue(name).trim();
  const ink = colour('--ink');
  const time = new Intl.DateTimeFormat(language, { hour: 'numeric', minute: '2-digit' });
  const axis = {
    stroke: ink,
    grid: { stroke: colour('--line'), width: 1 },
    font: '14px system-ui',
    size: 56,
  };
  const made = new uPlot(
    {
      width: place.clientWidth,
      height: 240,
      legend: { show: false },
      cursor: { show: false },
      axes: [{ ...axis, size: 36, values: (_, ticks) => ticks.map((t) => time.format(t * 1000)) }, axis],
      series: [
        {},
        {
          label,
          stroke: colour('--accent'),
          width: 3,
          points: { show: true, size: 9, fill: colour('--accent') },
        },
      ],
    },
    [trace.points.map((p) => p.at), trace.points.map((p) => p.value)],
    place,
  );
  return () => made.destroy();
}
