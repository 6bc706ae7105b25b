// How each block of a record is laid onto pages.
import {
  alarm,
  body,
  caption,
  hair,
  ink,
  label,
  pale,
  small,
  soft,
  strong,
  teal,
  trough,
  type Flow,
} from './flow';
import { Grid } from './grid';
import type { Bars, Block, Facts, Figure, Items, Signature, Verdict } from './model';
import type { Style } from './pen';
import { pathData, proportion } from './svg';

const shop: Style = { size: 12.5, bold: true, colour: teal };
const heads: Style[] = [
  { size: 18, bold: true, colour: ink },
  { size: 11.5, bold: true, colour: ink },
  { size: 9.3, bold: true, colour: ink },
];
const levelOf = (level: number | undefined) => Math.min(3, Math.max(1, Math.round(level ?? 2)));

function heading(flow: Flow, level: number, text: string | undefined): void {
  if (!text) return;
  const type = `H${level}`;
  if (level === 2) {
    flow.gap(10);
    if (flow.draw) flow.pen.rule(flow.left, flow.y + 1, flow.right, 0.8, teal);
    flow.y += 5;
  } else flow.gap(level === 1 ? 0 : 5);
  flow.y += flow.text(text, heads[level - 1]!, flow.left, flow.width, { type }) + (level === 3 ? 1 : 3);
}

/** Short facts stand in two columns, filled downwards; a long one has the page's width, beneath them. */
function facts(flow: Flow, block: Facts): void {
  const all = (block.facts ?? []).filter((f) => f.value);
  if (all.length === 0) return;
  flow.gap(2);
  const column = (flow.width - 24) / 2;
  const widest = Math.max(...all.map((f) => flow.pen.width(f.label ?? '', label)));
  const first = Math.min(widest + 0.5, 0.45 * column);
  const value = column - first - 12;
  const long = (f: { value?: string }) => flow.heightOf(f.value, strong, value) > 30;
  const tall = (f: { label?: string; value?: string }, width: number) =>
    Math.max(flow.heightOf(f.value, strong, width), flow.heightOf(f.label, label, first)) + 1;
  const put = (f: { label?: string; value?: string }, x: number, width: number) => {
    const into = flow.element('P');
    flow.text(f.label, label, x, first, { into });
    flow.text(f.value, strong, x + first + 12, width, { into });
    flow.y += tall(f, width);
  };
  const few = all.filter((f) => !long(f));
  const half = Math.ceil(few.length / 2);
  const columns = [few.slice(0, half), few.slice(half)];
  const height = Math.max(...columns.map((c) => c.reduce((sum, f) => sum + tall(f, value), 0)));
  flow.need(height);
  const from = flow.y;
  columns.forEach((c, i) => {
    flow.y = from;
    for (const fact of c) put(fact, flow.left + i * (column + 24), value);
  });
  flow.y = from + height;
  for (const fact of all.filter(long)) {
    flow.need(tall(fact, flow.width - first - 12));
    put(fact, flow.left, flow.width - first - 12);
  }
}

function verdicts(flow: Flow, all: Verdict[]): void {
  if (all.length === 0) return;
  flow.gap(2);
  const widest = Math.max(60, ...all.map((v) => flow.pen.width(v.label ?? '', strong)));
  const first = Math.min(widest + 0.5, 0.34 * flow.width);
  const x = flow.left + first + 14;
  const width = flow.width - first - 14;
  for (const verdict of all) {
    const lines = verdict.lines ?? [];
    const height =
      flow.heightOf(verdict.text, body, width) +
      lines.reduce((sum, l) => sum + 1 + flow.heightOf(l, caption, width), 0);
    const labelled = flow.heightOf(verdict.label, strong, first);
    flow.need(Math.max(labelled, Math.min(height, 120)));
    const [from, page] = [flow.y, flow.page];
    flow.text(verdict.label, strong, flow.left, first);
    flow.running(verdict.text, body, x, width);
    for (const line of lines) {
      flow.y += 1;
      flow.running(line, caption, x, width);
    }
    if (flow.page === page) flow.y = Math.max(flow.y, from + labelled);
    flow.gap(3.5);
  }
}

function cautionsHeight(flow: Flow, items: string[]): number {
  return 11 + items.reduce((sum, item) => sum + flow.heightOf(item, body, flow.width - 34) + 3, 0);
}

function cautions(flow: Flow, items: string[]): void {
  if (items.length === 0) return;
  const height = cautionsHeight(flow, items);
  flow.gap(2);
  flow.need(height);
  const from = flow.y;
  if (flow.draw && height < flow.whole)
    flow.pen.frame(flow.left + 0.5, from, flow.width - 1, height, 1, alarm);
  flow.y += 6;
  const list = flow.element('L');
  for (const item of items) {
    flow.need(Math.min(flow.heightOf(item, body, flow.width - 34), 26));
    if (flow.draw) flow.pen.triangle(flow.left + 9, flow.y + 1.6, 9.5, alarm);
    const into = flow.element('LBody', flow.element('LI', list));
    flow.running(item, body, flow.left + 25, flow.width - 34, { type: 'LBody', into });
    flow.y += 3;
  }
  flow.y += 5;
}

function list(flow: Flow, block: Items): void {
  flow.gap(1);
  const all = flow.element('L');
  for (const item of block.items ?? []) {
    flow.need(Math.min(flow.heightOf(item, body, flow.width - 12), 26));
    const one = flow.element('LI', all);
    flow.text('\u2022', body, flow.left, 10, { type: 'Lbl', into: flow.element('Lbl', one) });
    flow.running(item, body, flow.left + 12, flow.width - 12, {
      type: 'LBody',
      into: flow.element('LBody', one),
    });
    flow.gap(1.5);
  }
}

const barsHeight = (block: Bars) => 20 + 14 * (block.bars?.length ?? 0);

function bars(flow: Flow, block: Bars): void {
  const all = block.bars ?? [];
  if (all.length === 0) return;
  flow.need(Math.min(barsHeight(block), 0.5 * flow.whole));
  flow.gap(4);
  flow.y += flow.text(block.caption, caption) + 3;
  const widest = (of: (bar: (typeof all)[number]) => string | undefined, style: Style) =>
    Math.max(0, ...all.map((bar) => flow.pen.width(of(bar) ?? '', style))) + 0.5;
  const number = widest((b) => b.text, strong);
  const words = widest((b) => b.words, label);
  const first = Math.min(
    widest((b) => b.label, body),
    0.36 * flow.width,
  );
  const length = Math.max(80, flow.width - first - number - words - 30);
  for (const bar of all) {
    const height = Math.max(12, flow.heightOf(bar.label, body, first));
    flow.need(height);
    const into = flow.element('P');
    flow.text(bar.label, body, flow.left, first, { into });
    const x = flow.left + first + 10;
    if (flow.draw) {
      const share = Math.min(1, Math.max(0, bar.share ?? 0));
      flow.pen.fill(x, flow.y + 3, length, 7, trough);
      flow.pen.fill(x, flow.y + 3, Math.max(0.6, length * share), 7, bar.found ? teal : pale);
    }
    flow.text(bar.text, strong, x + length + 8, number, { right: true, into });
    flow.text(bar.words, label, x + length + 8 + number + 10, words + 2, { into });
    flow.y += height + 2;
  }
  flow.y += 2;
}

function sizeOf(flow: Flow, block: Figure): { width: number; height: number } | null {
  const own = proportion(block.svg ?? '');
  if (!own) return null;
  const width = block.width && block.width > 0 ? block.width : own.width;
  const scale = Math.min(1, flow.width / width, (0.7 * flow.whole * own.width) / (own.height * width));
  return { width: width * scale, height: (width * scale * own.height) / own.width };
}

function figure(flow: Flow, block: Figure): void {
  const size = sizeOf(flow, block);
  if (!size) return;
  const under = flow.heightOf(block.caption, caption);
  flow.gap(5);
  flow.need(size.height + under + 5);
  if (flow.draw) flow.pen.svg(flow.left, flow.y, size.width, size.height, block.svg!, block.caption ?? '');
  flow.y += size.height + 1;
  flow.y += flow.text(block.caption, caption) + 4;
}

const signLine = (one: Signature) => `${one.label ?? ''}: ${one.name ?? ''}${one.at ? `, ${one.at}` : ''}`;

/** Each a drawn name on its line, or the line to sign on; two beside each other. */
function signatures(flow: Flow, all: Signature[]): void {
  const each = (flow.width - 30) / 2;
  for (let i = 0; i < all.length; i += 2) {
    const pair = all.slice(i, i + 2);
    const under = Math.max(...pair.map((one) => flow.heightOf(signLine(one), caption, each)));
    flow.need(53 + under);
    const from = flow.y;
    pair.forEach((one, k) => {
      const x = flow.left + k * (each + 30);
      const [width, height, path] = [one.width ?? 0, one.height ?? 0, pathData(one.path)];
      if (flow.draw && path && width > 0 && height > 0) {
        const scale = Math.min((each - 10) / width, 40 / height);
        const drawn =
          `<svg viewBox="0 0 ${width} ${height}"><path d="${path}" fill="none" stroke="${ink}" ` +
          `stroke-width="${0.9 / scale}" stroke-linecap="round" stroke-linejoin="round"/></svg>`;
        flow.pen.svg(x + 4, from + 44 - height * scale, width * scale, height * scale, drawn, signLine(one));
      }
      if (flow.draw) flow.pen.rule(x, from + 46, x + each, 0.7, ink);
      flow.y = from + 48;
      flow.text(signLine(one), caption, x, each);
    });
    flow.y = from + 48 + under + 5;
  }
}

/** What a block takes at least on the page where it begins. */
export function firstHeight(flow: Flow, block: Block): number {
  switch (block.kind) {
    case 'letterhead':
      return 60;
    case 'heading': {
      const level = levelOf(block.level);
      return (level === 2 ? 22 : 8) + flow.heightOf(block.text, heads[level - 1]!);
    }
    case 'paragraph':
    case 'small':
      return Math.min(flow.heightOf(block.text, block.kind === 'small' ? small : body), 27);
    case 'list':
      return Math.min(flow.heightOf(block.items?.[0], body, flow.width - 12), 27);
    case 'cautions':
      return Math.min(cautionsHeight(flow, block.items ?? []) + 2, flow.whole / 2);
    case 'facts':
    case 'verdicts':
      return 40;
    case 'table':
      return new Grid(flow, block).begun() + 5;
    case 'bars':
      return barsHeight(block) + 4;
    case 'figure': {
      const size = sizeOf(flow, block);
      return size ? size.height + 24 : 0;
    }
    case 'signatures':
      return 74;
    default:
      return 0;
  }
}

export function put(flow: Flow, block: Block): void {
  switch (block.kind) {
    case 'letterhead':
      flow.y += flow.text(block.name, shop);
      for (const line of block.lines ?? []) flow.y += flow.text(line, { ...caption, colour: soft });
      flow.y += 5;
      if (flow.draw) flow.pen.rule(flow.left, flow.y, flow.right, 0.8, hair);
      flow.y += 9;
      return;
    case 'heading':
      return heading(flow, levelOf(block.level), block.text);
    case 'paragraph':
    case 'small':
      flow.gap(block.kind === 'small' ? 6 : 2);
      flow.running(block.text, block.kind === 'small' ? small : body);
      return flow.gap(2);
    case 'list':
      return list(flow, block);
    case 'cautions':
      return cautions(flow, block.items ?? []);
    case 'facts':
      return facts(flow, block);
    case 'verdicts':
      return verdicts(flow, block.verdicts ?? []);
    case 'table':
      return new Grid(flow, block).put();
    case 'bars':
      return bars(flow, block);
    case 'figure':
      return figure(flow, block);
    case 'signatures':
      return signatures(flow, block.signatures ?? []);
  }
}
