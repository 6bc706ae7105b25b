// A curve drawn by uPlot: measured dots, the predicted line and its band, limits dashed. Loaded when looked at.
import uPlot from 'uplot';
import 'uplot/dist/uPlot.min.css';
import type { Curve } from './answer_types';
import { bandsOf, columnsOf } from './curve';

export function plotCurve(place: HTMLElement, curve: Curve, language: string): () => void {
  const format = new Intl.NumberFormat(language, { maximumFractionDigits: 4 });
  const style = getComputedStyle(document.documentElement);
  const colour = (name: string) => style.getPropertyValue(name).trim();
  const axis = {
    stroke: colour('--ink'),
    grid: { stroke: colour('--line'), width: 1 },
    font: '13px system-ui',
    labelFont: '13px system-ui',
    labelSize: 22,
    values: (_: uPlot, ticks: number[]) => ticks.map((t) => format.format(t)),
  };
  const bands = bandsOf(curve);
  const banded = new Set(bands.flat());
  const firstMeasured = curve.lines.findIndex((l) => l.kind === 'measured');
  const series = curve.lines.map((line, i): uPlot.Series => {
    const shared = { label: line.label, spanGaps: true };
    if (line.kind === 'measured')
      return {
        ...shared,
        stroke: colour('--ink'),
        width: 0,
        // What is read is full, what is made of it (brought to one temperature) is hollow.
        points: {
          show: true,
          size: 11,
          width: 2,
          stroke: colour('--ink'),
          fill: colour(i === firstMeasured ? '--ink' : '--ground'),
        },
      };
    if (line.kind === 'limit')
      return { ...shared, stroke: colour('--bad'), width: 2, dash: [8, 6], points: { show: false } };
    if (banded.has(i))
      return { ...shared, stroke: colour('--accent'), width: 1, dash: [3, 3], points: { show: false } };
    return { ...shared, stroke: colour('--accent'), width: 3, points: { show: false } };
  });
  const { x, lines } = columnsOf(curve);
  const made = new uPlot(
    {
      width: place.clientWidth,
      height: 260,
      legend: { show: false },
      cursor: { show: false },
      scales: { x: { time: false } },
      axes: [
        { ...axis, size: 34, label: `${curve.x.label}, ${curve.x.unit}` },
        {
          ...axis,
          size: (_: uPlot, texts: string[] | null) =>
            18 + 8 * Math.max(2, ...(texts ?? []).map((t) => t.length)),
          label: `${curve.y.label}, ${curve.y.unit}`,
        },
      ],
      series: [{}, ...series],
      bands: bands.map(([high, low]) => ({ series: [high + 1, low + 1], fill: `${colour('--accent')}33` })),
    },
    [x, ...lines],
    place,
  );
  return () => made.destroy();
}
