// An SVG of our own drawing as vectors on a page: paths, lines, circles, boxes, words, clips, dashes. What it doesn't
// know (title, desc, style, scripts, foreign things) it doesn't draw.
import type { PDFDocument } from 'pdfkit';
import { dressed, parsed, type Node } from './svg_tree';

interface Box {
  x: number;
  y: number;
  width: number;
  height: number;
}

const names: Record<string, string> = { black: '#000000', white: '#ffffff', currentColor: '#1a2629' };

function colour(value: string | undefined, otherwise: string | null): string | null {
  if (value === undefined) return otherwise;
  const given = names[value] ?? value;
  return /^#[0-9a-f]{3}([0-9a-f]{3})?$/i.test(given) ? given : null;
}

const number = (value: string | undefined, otherwise = 0) => {
  const read = parseFloat(value ?? '');
  return Number.isFinite(read) ? read : otherwise;
};
const numbers = (value: string | undefined) =>
  (value?.match(/-?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d+)?/gi) ?? []).map(Number);

/** Path data that a page takes, else nothing. */
export function pathData(value: string | undefined): string {
  const data = value?.trim() ?? '';
  return /^[Mm][\d\s.,eE+\-MmLlHhVvCcSsQqTtAaZz]*$/.test(data) ? data : '';
}

class Painter {
  private readonly clips = new Map<string, Node>();

  constructor(
    private readonly doc: PDFDocument,
    private readonly shown: (words: string) => string,
    root: Node,
  ) {
    this.collect(root);
  }

  private collect(node: Node): void {
    if (node.tag === 'clipPath' && node.attributes['id']) this.clips.set(node.attributes['id'], node);
    for (const child of node.children) this.collect(child);
  }

  children(node: Node): void {
    for (const child of node.children) this.node(child);
  }

  private node(node: Node): void {
    if (!['g', 'path', 'line', 'polyline', 'polygon', 'rect', 'circle', 'ellipse', 'text'].includes(node.tag))
      return;
    this.doc.save();
    this.placed(node.attributes['transform']);
    this.clipped(node.look['clip-path'] ?? node.attributes['clip-path']);
    if (node.tag === 'g') this.children(node);
    else if (node.tag === 'text') this.text(node);
    else this.shape(node);
    this.doc.restore();
  }

  private placed(transform: string | undefined): void {
    for (const [, name, inner] of (transform ?? '').matchAll(/(\w+)\(([^)]*)\)/g)) {
      const [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0] = numbers(inner);
      if (name === 'translate') this.doc.translate(a, b);
      else if (name === 'rotate') this.doc.rotate(a, { origin: [b, c] });
      else if (name === 'scale') this.doc.transform(a, 0, 0, numbers(inner)[1] ?? a, 0, 0);
      else if (name === 'matrix') this.doc.transform(a, b, c, d, e, f);
    }
  }

  private clipped(reference: string | undefined): void {
    const clip = this.clips.get(/^url\(#(.*)\)$/.exec(reference ?? '')?.[1] ?? '');
    const inside = clip?.children.find((n) => this.outline(n));
    if (inside) this.doc.clip();
  }

  /** Lays down the outline of a shape; false when there is none. */
  private outline({ tag, attributes: a }: Node): boolean {
    if (tag === 'path') {
      const data = pathData(a['d']);
      if (data) this.doc.path(data);
      return data !== '';
    }
    if (tag === 'rect') {
      const [width, height] = [number(a['width']), number(a['height'])];
      if (width > 0 && height > 0) this.doc.rect(number(a['x']), number(a['y']), width, height);
      return width > 0 && height > 0;
    }
    if (tag === 'circle' || tag === 'ellipse') {
      const rx = number(a['r'] ?? a['rx']);
      const ry = number(a['r'] ?? a['ry']);
      if (rx > 0 && ry > 0) this.doc.ellipse(number(a['cx']), number(a['cy']), rx, ry);
      return rx > 0 && ry > 0;
    }
    const at = tag === 'line' ? ['x1', 'y1', 'x2', 'y2'].map((n) => number(a[n])) : numbers(a['points']);
    if (at.length < 4) return false;
    this.doc.moveTo(at[0]!, at[1]!);
    for (let i = 2; i + 1 < at.length; i += 2) this.doc.lineTo(at[i]!, at[i + 1]!);
    if (tag === 'polygon') this.doc.closePath();
    return true;
  }

  private pen(look: Node['look']): void {
    this.doc.lineWidth(number(look['stroke-width'], 1));
    this.doc.lineCap(look['stroke-linecap'] ?? 'butt').lineJoin(look['stroke-linejoin'] ?? 'miter');
    const dashes = numbers(look['stroke-dasharray']).filter((n) => n >= 0);
    if (dashes.some((n) => n > 0)) this.doc.dash(dashes.map((n) => Math.max(n, 0.01)));
    else this.doc.undash();
  }

  private shape(node: Node): void {
    const fill = node.tag === 'line' ? null : colour(node.look['fill'], '#000000');
    const width = number(node.look['stroke-width'], 1);
    const stroke = width > 0 ? colour(node.look['stroke'], null) : null;
    if ((!fill && !stroke) || !this.outline(node)) return;
    if (fill) this.doc.fillColor(fill);
    if (stroke) {
      this.doc.strokeColor(stroke);
      this.pen(node.look);
    }
    if (fill && stroke) this.doc.fillAndStroke();
    else if (fill) this.doc.fill();
    else this.doc.stroke();
  }

  private text(node: Node): void {
    const words = (node.text + node.children.map((n) => n.text).join('')).replace(/\s*\n\s*/g, ' ').trim();
    const fill = colour(node.look['fill'], '#000000');
    if (!words || !fill) return;
    const bold = node.look['font-weight'] === 'bold' || number(node.look['font-weight'], 400) >= 600;
    this.doc.font(bold ? 'bold' : 'regular').fontSize(number(node.look['font-size'], 16));
    const shown = this.shown(words);
    const anchor = node.look['text-anchor'];
    const share = anchor === 'end' ? 1 : anchor === 'middle' ? 0.5 : 0;
    const x = number(node.attributes['x']) - share * this.doc.widthOfString(shown);
    const y = number(node.attributes['y']);
    const halo = colour(node.look['stroke'], null);
    const at = { lineBreak: false, baseline: 'alphabetic' } as const;
    if (halo && node.look['paint-order']?.startsWith('stroke')) {
      this.doc.strokeColor(halo);
      this.pen(node.look);
      this.doc.text(shown, x, y, { ...at, stroke: true, fill: false });
    }
    this.doc.fillColor(fill).text(shown, x, y, at);
  }
}

/** Draws the document into the box, as large as fits with its own proportions; false when it can't be read. */
export function drawSvg(doc: PDFDocument, svg: string, box: Box, shown: (words: string) => string): boolean {
  const root = parsed(svg);
  if (!root) return false;
  const [x = 0, y = 0, width = number(root.attributes['width']), height = number(root.attributes['height'])] =
    numbers(root.attributes['viewBox']);
  if (!(width > 0 && height > 0)) return false;
  const scale = Math.min(box.width / width, box.height / height);
  doc
    .translate(box.x + (box.width - width * scale) / 2, box.y + (box.height - height * scale) / 2)
    .scale(scale)
    .translate(-x, -y);
  // Nothing is drawn beside its box.
  doc.rect(x, y, width, height).clip();
  new Painter(doc, shown, dressed(root)).children(root);
  return true;
}

/** Width over height of the drawing itself, where it says so. */
export function proportion(svg: string): { width: number; height: number } | null {
  const root = parsed(svg.slice(0, svg.indexOf('>', svg.indexOf('<svg')) + 1));
  const [, , width = 0, height = 0] = numbers(root?.attributes['viewBox']);
  return width > 0 && height > 0 ? { width, height } : null;
}
