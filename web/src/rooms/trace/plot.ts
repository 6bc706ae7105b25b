// The plot: a lane for each reading with an axis of its own, above them the machine's phases as a strip. All lanes
// show the same stretch of time; a finger drags it, two fingers or the wheel stretch it, a tap marks a moment. What is
// drawn is made anew for each stretch (window.ts), never more than the pixels show, so that a million samples move as
// easily as a hundred.
import uPlot from 'uplot';
import 'uplot/dist/uPlot.min.css';
import { markTexts, steps } from './clock_marks';
import { gestures } from './gestures';
import { letterOf, paints, token, type Paint, type State } from './paint';
import { windowOf, within, type Lane, type View } from './window';

export interface PlotLane {
  label: string;
  unit: string;
  lane: Lane;
}
interface Band {
  from: number;
  to: number;
  state: State;
}
interface PlotWanted {
  lanes: readonly PlotLane[];
  bands: readonly Band[];
  /** s since 1970 by the file's own clock; null without dates */
  start: number | null;
  /** s, all of what was logged */
  whole: number;
  language: string;
  height: number;
  /** each value as a dot: a handful of them, taken by hand */
  dots?: boolean;
  view?: View;
  marked?: number | null;
  onView: (view: View) => void;
  onMark: (t: number) => void;
}
export interface Plot {
  show(view: View): void;
  mark(t: number | null): void;
  destroy(): void;
}

const shortestView = 30; // s: nearer, the usual log has hardly a point in sight. Our estimate
const stripHeight = 28;
const axisWidth = 54;
const axisHeight = 46;

export function plotLanes(place: HTMLElement, wanted: PlotWanted): Plot {
  const offset = wanted.start ?? 0;
  const shortest = Math.min(wanted.whole, shortestView);
  let view = within(wanted.view ?? { from: 0, to: wanted.whole }, wanted.whole, shortest);
  let marked = wanted.marked ?? null;
  const ratio = devicePixelRatio || 1;
  const states = paints(ratio);
  const colours = { ink: token('--ink'), line: token('--line'), accent: token('--accent') };
  const numbers = new Intl.NumberFormat(wanted.language, { maximumFractionDigits: 3, useGrouping: false });
  const width = () => Math.max(200, place.clientWidth);

  const strip = document.createElement('canvas');
  strip.className = 'phase-strip';
  if (wanted.bands.length > 0) place.append(strip);

  const inView = () => wanted.bands.filter((b) => b.to > view.from && b.from < view.to);
  /** CSS pixels within the plot's own area. */
  const xOf = (t: number, wide: number) => ((t - view.from) / (view.to - view.from)) * wide;

  const behind = (u: uPlot) => {
    const { left, top, width: wide, height } = u.bbox;
    u.ctx.save();
    u.ctx.globalAlpha = 0.13;
    for (const band of inView()) {
      if (band.state === 'off') continue;
      const from = Math.max(0, xOf(band.from, wide));
      const to = Math.min(wide, xOf(band.to, wide));
      u.ctx.fillStyle = states[band.state].colour;
      u.ctx.fillRect(left + from, top, Math.max(1, to - from), height);
    }
    u.ctx.restore();
  };
  const before = (u: uPlot) => {
    if (marked === null || marked < view.from || marked > view.to) return;
    const { left, top, width: wide, height } = u.bbox;
    u.ctx.save();
    u.ctx.fillStyle = colours.ink;
    u.ctx.fillRect(left + xOf(marked, wide) - ratio, top, 2 * ratio, height);
    u.ctx.restore();
  };

  const data = (lane: Lane): uPlot.AlignedData => {
    const [xs, ys] = windowOf(lane, view.from, view.to, Math.max(200, width()));
    return [xs.map((x) => x + offset), ys];
  };
  const lanes = wanted.lanes.map(({ label, unit, lane }, i) => {
    const title = document.createElement('p');
    title.className = 'lane-name small';
    const name = document.createElement('strong');
    name.textContent = label;
    title.append(name, unit ? ` ${unit}` : '');
    const box = document.createElement('div');
    place.append(title, box);
    const last = i === wanted.lanes.length - 1;
    const axis = {
      stroke: colours.ink,
      grid: { stroke: colours.line, width: 1 },
      ticks: { stroke: colours.line, width: 1 },
      font: '13px system-ui',
      gap: 4,
    };
    const pad = (lane.most - lane.least) * 0.06 || Math.abs(lane.most) * 0.1 || 1;
    return new uPlot(
      {
        width: width(),
        height: wanted.height + (last ? axisHeight : 8),
        legend: { show: false },
        cursor: { show: false },
        padding: [4, 14, last ? 0 : 4, 0],
        scales: {
          x: { time: false, auto: false, range: () => [view.from + offset, view.to + offset] },
          y: { auto: false, range: () => [lane.least - pad, lane.most + pad] },
        },
        axes: [
          {
            ...axis,
            size: last ? axisHeight : 0,
            space: 74,
            incrs: steps,
            values: (_, at, __, ___, step) =>
              last ? markTexts(at, step, wanted.start !== null, wanted.language) : at.map(() => ''),
          },
          {
            ...axis,
            size: axisWidth,
            space: 34,
            values: (_, at) => at.map((v) => numbers.format(v)),
          },
        ],
        series: [
          {},
          {
            label,
            stroke: colours.accent,
            width: wanted.dots ? 3 : 2,
            points: wanted.dots ? { show: true, size: 10, fill: colours.accent } : { show: false },
          },
        ],
        hooks: { drawClear: [behind], draw: [before] },
      },
      data(lane),
      box,
    );
  });

  const area = () => {
    const first = lanes[0];
    if (!first) return { left: axisWidth, width: width() - axisWidth };
    return { left: first.bbox.left / ratio, width: first.bbox.width / ratio };
  };
  const drawStrip = () => {
    if (wanted.bands.length > 0 && lanes.length > 0)
      paintStrip(strip, { ...area(), all: width(), ratio, view, states, bands: inView() }, xOf);
  };

  let frame = 0;
  const draw = () => {
    frame = 0;
    lanes.forEach((u, i) => u.setData(data(wanted.lanes[i]!.lane), true));
    drawStrip();
    wanted.onView(view);
  };
  const soon = () => (frame ||= requestAnimationFrame(draw));
  const show = (to: View) => {
    view = within(to, wanted.whole, shortest);
    soon();
  };
  drawStrip();

  const size = new ResizeObserver(() => {
    if (lanes[0] && lanes[0].width === width()) return;
    for (const u of lanes) u.setSize({ width: width(), height: u.height });
    soon();
  });
  size.observe(place);
  const letGo = gestures(place, {
    view: () => view,
    timeAt: (clientX) => {
      const { left, width: wide } = area();
      const x = clientX - place.getBoundingClientRect().left - left;
      return view.from + (x / wide) * (view.to - view.from);
    },
    show,
    mark: (t) => wanted.onMark(Math.min(wanted.whole, Math.max(0, t))),
    whole: () => view.to - view.from >= wanted.whole,
  });

  return {
    show,
    mark: (t) => {
      marked = t;
      soon();
    },
    destroy: () => {
      letGo();
      size.disconnect();
      cancelAnimationFrame(frame);
      for (const u of lanes) u.destroy();
      place.replaceChildren();
    },
  };
}

interface Strip {
  left: number;
  width: number;
  all: number;
  ratio: number;
  view: View;
  states: Record<State, Paint>;
  bands: readonly Band[];
}

function paintStrip(strip: HTMLCanvasElement, s: Strip, xOf: (t: number, wide: number) => number): void {
  strip.width = Math.round(s.all * s.ratio);
  strip.height = Math.round(stripHeight * s.ratio);
  strip.style.width = `${s.all}px`;
  strip.style.height = `${stripHeight}px`;
  const pen = strip.getContext('2d');
  if (!pen) return;
  pen.scale(s.ratio, s.ratio);
  const [sheet, ink] = [token('--sheet'), token('--ink')];
  pen.font = 'bold 14px system-ui';
  pen.textAlign = 'center';
  pen.textBaseline = 'middle';
  for (const band of s.bands) {
    const from = Math.max(0, xOf(band.from, s.width));
    const to = Math.min(s.width, xOf(band.to, s.width));
    const wide = Math.max(1, to - from);
    // Patterns are made of canvas pixels and would be scaled twice.
    pen.save();
    pen.setTransform(1, 0, 0, 1, 0, 0);
    pen.fillStyle = s.states[band.state].fill;
    pen.fillRect((s.left + from) * s.ratio, 0, wide * s.ratio, strip.height);
    pen.restore();
    pen.fillStyle = s.states[band.state].colour;
    pen.fillRect(s.left + from, stripHeight - 4, wide, 4);
    if (wide < 20) continue;
    const middle = s.left + from + wide / 2;
    pen.fillStyle = sheet;
    pen.fillRect(middle - 9, 3, 18, 19);
    pen.fillStyle = ink;
    pen.fillText(letterOf(band.state), middle, 13);
  }
  pen.strokeStyle = token('--line');
  pen.strokeRect(s.left + 0.5, 0.5, s.width - 1, stripHeight - 1);
}
