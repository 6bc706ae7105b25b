// A table on the pages: its head again on every page, no row parted unless it is higher than a page, sums kept with
// what they sum.
import type { Element } from 'pdfkit';
import { hair, ink, line, soft, strong, type Flow } from './flow';
import { pieces } from './lines';
import type { Table } from './model';
import type { Style } from './pen';

const cell: Style = { size: 8.3, colour: ink };
const sumCell: Style = { size: 8.3, bold: true, colour: ink };
const headCell: Style = { size: 8, bold: true, colour: soft };
const gap = 10;
const pad = 2.2;

/** Widths below their floors raised, out of what the others have above theirs; the sum stays. */
export function evened(widths: number[], floors: number[]): number[] {
  const sum = (of: (width: number, floor: number) => number) =>
    widths.reduce((total, width, c) => total + Math.max(0, of(width, floors[c]!)), 0);
  const missing = sum((width, floor) => floor - width);
  const spare = sum((width, floor) => width - floor);
  const moved = Math.min(missing, spare);
  return widths.map((width, c) => {
    const lack = floors[c]! - width;
    return lack > 0 ? width + (lack * moved) / missing : width + (spare > 0 ? (lack * moved) / spare : 0);
  });
}

export class Grid {
  private readonly columns;
  private readonly rows;
  private readonly sums: number;
  private readonly width: number;
  private readonly widths: number[];
  private element: Element | undefined;

  constructor(
    private readonly flow: Flow,
    private readonly table: Table,
  ) {
    this.columns = table.columns ?? [];
    this.rows = table.rows ?? [];
    this.sums = Math.min(table.sums ?? 0, this.rows.length);
    this.width = (table.narrow ? 0.62 : 1) * flow.width;
    this.widths = this.shared();
  }

  /** Shares of the width, first so that lines end as they come, then so that no head, number or word is broken. */
  private shared(): number[] {
    const { pen } = this.flow;
    const room = this.width - gap * Math.max(0, this.columns.length - 1);
    const all = this.columns.reduce((sum, c) => sum + (c.share ?? 1), 0) || 1;
    const widths = this.columns.map((c) => (room * (c.share ?? 1)) / all);
    const widest = (c: number, parts: (line: string) => string[]) => {
      const cells = this.rows.flatMap((row) => (row[c] ?? '').split('\n').flatMap(parts));
      const head = pen.width(this.columns[c]!.label ?? '', headCell);
      return (
        cells.reduce((most, words) => Math.max(most, pen.width(words.replace(/ +$/, ''), sumCell)), head) +
        0.5
      );
    };
    const whole = widths.map((_, c) =>
      Math.min(
        widest(c, (line) => [line]),
        0.4 * room,
      ),
    );
    const least = this.columns.map(({ align }, c) =>
      Math.min(align === 'right' ? whole[c]! : widest(c, pieces), 0.3 * room),
    );
    return evened(evened(widths, whole), least);
  }

  private lines(row: string[], style: Style): string[][] {
    return this.columns.map((_, c) => (row[c] ? this.flow.pen.lines(row[c], style, this.widths[c]!) : []));
  }

  private heightOf(row: string[], style: Style): number {
    const most = this.lines(row, style).reduce((n, lines) => Math.max(n, lines.length), 1);
    return most * this.flow.pen.lineHeight(style) + 2 * pad;
  }

  private style(r: number): Style {
    return r >= this.rows.length - this.sums ? sumCell : cell;
  }

  private row(row: string[], style: Style, head: boolean, first = true): void {
    const { flow } = this;
    const each = flow.pen.lineHeight(style);
    let lines = this.lines(row, style);
    // A head that comes again on a later page is read once.
    const element = first ? flow.element('TR', this.element) : undefined;
    const type = head ? 'TH' : 'TD';
    const cells = this.columns.map(
      () => element && flow.element(type, element, head ? { scope: 'Column' } : {}),
    );
    for (;;) {
      const most = lines.reduce((n, l) => Math.max(n, l.length), 1);
      const fits = Math.min(most, Math.max(1, Math.floor((flow.room - 2 * pad) / each)));
      let x = flow.left;
      lines.forEach((own, c) => {
        const right = this.columns[c]!.align === 'right';
        const now = own.slice(0, fits);
        if (flow.draw) flow.pen.draw(x, flow.y + pad, this.widths[c]!, now, style, right, type, cells[c]);
        x += this.widths[c]! + gap;
      });
      flow.y += fits * each + 2 * pad;
      if (fits === most) return;
      lines = lines.map((own) => own.slice(fits));
      flow.nextPage();
    }
  }

  private head(first: boolean): void {
    if (!this.columns.some((c) => c.label)) return;
    this.row(
      this.columns.map((c) => c.label ?? ''),
      headCell,
      true,
      first,
    );
    this.rule(line, 0.8);
  }

  private rule(colour: string, thickness: number): void {
    const { flow } = this;
    if (flow.draw) flow.pen.rule(flow.left, flow.y, flow.left + this.width, thickness, colour);
  }

  /** What it needs where it begins: a small table stays whole, a large one begins with three rows. */
  begun(): number {
    if (this.columns.length === 0 || this.rows.length === 0) return 0;
    let whole = (this.table.caption ? 14 : 0) + 23;
    let begun = whole;
    for (let r = 0; r < this.rows.length && whole < this.flow.whole; ++r) {
      whole += this.heightOf(this.rows[r]!, this.style(r));
      if (r < 3) begun = whole;
    }
    return Math.min(whole < 0.37 * this.flow.whole ? whole : begun, 0.9 * this.flow.whole);
  }

  put(): void {
    const { flow, rows, sums } = this;
    if (this.columns.length === 0 || rows.length === 0) return;
    flow.gap(5);
    flow.need(this.begun());
    this.element = flow.element('Table');
    if (this.table.caption) {
      const into = flow.element('Caption', this.element);
      flow.y += flow.text(this.table.caption, strong, flow.left, flow.width, { type: 'Caption', into }) + 1;
    }
    this.head(true);
    const firstSum = rows.length - sums;
    rows.forEach((row, r) => {
      let height = this.heightOf(row, this.style(r));
      // Sums stay with each other and with the last row above them.
      if (sums > 0 && r + 1 === firstSum)
        for (let k = firstSum; k < rows.length; ++k) height += this.heightOf(rows[k]!, sumCell);
      if (height > flow.room && r > 0 && !flow.atTop) {
        flow.nextPage();
        this.head(false);
      }
      if (sums > 0 && r === firstSum) this.rule(line, 0.8);
      this.row(row, this.style(r), false);
      if (r < firstSum - 1 || sums === 0) this.rule(hair, 0.4);
    });
    flow.y += 4;
  }
}
