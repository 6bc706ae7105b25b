// Where the next thing of a record goes: room on a page, the next page, its foot. With `draw` off everything is laid
// out and nothing written, which counts the pages for the foot.
import type { Element } from 'pdfkit';
import type { Pen, Style } from './pen';

export const ink = '#1a2629';
export const soft = '#5c666d';
export const teal = '#0b6a6f';
export const pale = '#8fb5b3';
export const trough = '#eceff0';
export const line = '#8b9599';
export const hair = '#dfe3e4';
export const alarm = '#a3521a';

export const body: Style = { size: 9.3, colour: ink };
export const strong: Style = { size: 9.3, bold: true, colour: ink };
export const label: Style = { size: 9.3, colour: soft };
export const caption: Style = { size: 8.3, colour: soft };
export const small: Style = { size: 6.8, colour: soft };

const margin = 48;
const top = 44;
const bottom = 58;

export interface Put {
  right?: boolean;
  type?: string;
  into?: Element | undefined;
}

export class Flow {
  readonly left = margin;
  readonly right: number;
  readonly width: number;
  private readonly end: number;
  y = top;
  page = 1;

  constructor(
    readonly pen: Pen,
    width: number,
    private readonly height: number,
    readonly draw: boolean,
    private readonly pages: number,
    private readonly footText: string,
  ) {
    this.right = width - margin;
    this.width = width - 2 * margin;
    this.end = height - bottom;
    if (draw) pen.page();
  }

  get room(): number {
    return this.end - this.y;
  }
  get atTop(): boolean {
    return this.y <= top;
  }
  /** How much of the page at hand is taken, 0..1. */
  get filled(): number {
    return (this.y - top) / (this.end - top);
  }
  /** The height of a whole page's text. */
  get whole(): number {
    return this.end - top;
  }

  /** What can't be parted asks first for the room that it needs. */
  need(height: number): void {
    if (height > this.room && !this.atTop) this.nextPage();
  }

  gap(height: number): void {
    if (!this.atTop) this.y = Math.min(this.y + height, this.end);
  }

  nextPage(): void {
    this.foot();
    if (this.draw) this.pen.page();
    ++this.page;
    this.y = top;
  }

  foot(): void {
    if (!this.draw) return;
    // The last mark of each kind: a machine's name may hold the same words.
    let words = this.footText;
    for (const [mark, value] of [
      ['{pages}', this.pages],
      ['{page}', this.page],
    ] as const) {
      const at = words.lastIndexOf(mark);
      if (at >= 0) words = words.slice(0, at) + value + words.slice(at + mark.length);
    }
    this.pen.rule(this.left, this.height - 42, this.right, 0.5, hair);
    const lines = this.pen.lines(words, small, this.width);
    this.pen.draw(this.left, this.height - 38, this.width, lines, small, true, 'P');
  }

  element(type: string, under?: Element, options?: { alt?: string; scope?: string }): Element | undefined {
    return this.draw ? this.pen.element(type, under, options) : undefined;
  }

  heightOf(words: string | undefined, style: Style, width = this.width): number {
    return words ? this.pen.lines(words, style, width).length * this.pen.lineHeight(style) : 0;
  }

  /** Text that stays together, from where the flow is; gives its height and doesn't move on. */
  text(words: string | undefined, style: Style, x = this.left, width = this.width, put: Put = {}): number {
    if (!words) return 0;
    const lines = this.pen.lines(words, style, width);
    if (this.draw)
      this.pen.draw(
        x,
        this.y,
        width,
        lines,
        style,
        put.right ?? false,
        put.type ?? 'P',
        put.into ?? this.element(put.type ?? 'P'),
      );
    return lines.length * this.pen.lineHeight(style);
  }

  /** Text that may run over to the next page, never with one line of several alone; moves on. */
  running(words: string | undefined, style: Style, x = this.left, width = this.width, put: Put = {}): void {
    if (!words) return;
    const type = put.type ?? 'P';
    const into = put.into ?? this.element(type);
    const each = this.pen.lineHeight(style);
    let rest = this.pen.lines(words, style, width);
    while (rest.length > 0) {
      const fits = Math.floor(this.room / each + 1e-9);
      let take = Math.min(fits, rest.length);
      if (take < rest.length && rest.length - take < 2) --take;
      if (take < rest.length && take < 2) take = 0;
      if (take <= 0 && !this.atTop) {
        this.nextPage();
        continue;
      }
      take = Math.max(take, 1);
      if (this.draw) this.pen.draw(x, this.y, width, rest.slice(0, take), style, false, type, into);
      this.y += take * each;
      rest = rest.slice(take);
      if (rest.length > 0) this.nextPage();
    }
  }
}
