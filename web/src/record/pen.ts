// Text and lines on the pages of a PDF, through pdfkit: places and lengths in points, y down, tagged for readers.
import { PDFDocument, type Element } from 'pdfkit';
import { toBlob } from 'pdfkit/output';
import { broken } from './lines';
import { drawSvg } from './svg';

export interface Style {
  size: number;
  bold?: boolean;
  colour: string;
}
export interface Faces {
  regular: Uint8Array;
  bold: Uint8Array;
}
export interface Sheet {
  width: number;
  height: number;
  title: string;
  language: string;
  created: Date;
}

// Noto Sans above and below the line, in ems: its lines follow each other without more.
const ascent = 1.069;
const line = 1.362;
const replacement = '\uFFFD';

/** Fit to stand in XML. */
const escaped = (text: string) =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');

export class Pen {
  private readonly doc: PDFDocument;
  private readonly root: Element;
  private readonly known = new Map<string, string[]>();
  private readonly has = new Map<number, boolean>();
  private factor = 1;

  constructor(
    private readonly sheet: Sheet,
    faces: Faces,
  ) {
    const maker = 'Coldwright';
    this.doc = new PDFDocument({
      size: [sheet.width, sheet.height],
      margin: 0,
      autoFirstPage: false,
      pdfVersion: '1.7',
      subset: 'PDF/A-2a',
      tagged: true,
      lang: sheet.language,
      displayTitle: true,
      font: null,
      info: { Title: sheet.title, Creator: maker, Producer: maker, CreationDate: sheet.created },
    });
    this.doc.registerFont('regular', faces.regular).registerFont('bold', faces.bold);
    this.root = this.doc.struct('Document');
    this.doc.addStructure(this.root);
  }

  /** Everything from here on comes out this much larger. */
  scale(factor: number): void {
    this.factor = factor;
  }

  page(): void {
    this.doc.addPage();
    this.doc.scale(this.factor);
  }

  /** An element of the document's structure, under another or at its top. */
  element(type: string, under?: Element, options: { alt?: string; scope?: string } = {}): Element {
    const made = this.doc.struct(type, options);
    (under ?? this.root).add(made);
    return made;
  }

  /** What the faces can show: signs without a glyph become U+FFFD, those without a shape fall away. */
  private shown(text: string): string {
    let out = '';
    for (const sign of text.normalize('NFC')) {
      const code = sign.codePointAt(0)!;
      let has = this.has.get(code);
      if (has === undefined) this.has.set(code, (has = this.doc._font.font.hasGlyphForCodePoint(code)));
      if (sign === '\n' || sign === '\t' || (has && code !== 0xad)) out += sign;
      else if (!/[\p{Cf}\p{Cc}\u{FE00}-\u{FE0F}]/u.test(sign)) out += replacement;
    }
    return out;
  }

  private take(style: Style): void {
    this.doc.font(style.bold ? 'bold' : 'regular').fontSize(style.size);
  }

  width(words: string, style: Style): number {
    if (!words) return 0;
    this.take(style);
    return this.doc.widthOfString(this.shown(words));
  }

  lines(words: string, style: Style, width: number): string[] {
    const key = `${style.size} ${style.bold ?? false} ${width.toFixed(3)} ${words}`;
    let lines = this.known.get(key);
    if (!lines) {
      this.take(style);
      lines = broken(this.shown(words), width, (w) => this.doc.widthOfString(w));
      this.known.set(key, lines);
    }
    return lines;
  }

  lineHeight(style: Style): number {
    return line * style.size;
  }

  /** Lines from the upper edge y, read as part of `element`; without one they stand outside what is read. */
  draw(
    x: number,
    y: number,
    width: number,
    lines: string[],
    style: Style,
    right: boolean,
    type: string,
    into?: Element,
  ) {
    if (lines.every((l) => !l)) return;
    const content = into ? this.doc.markStructureContent(type) : null;
    if (!into) this.doc.markContent('Artifact', { type: 'Pagination' });
    this.take(style);
    this.doc.fillColor(style.colour);
    lines.forEach((words, i) => {
      const from = right ? x + width - this.doc.widthOfString(words) : x;
      const base = y + i * this.lineHeight(style) + ascent * style.size;
      // The blank between two lines belongs to what is read.
      if (words) this.doc.text(into && i + 1 < lines.length ? `${words} ` : words, from, base, drawn);
    });
    this.doc.endMarkedContent();
    if (content) into!.add(content);
  }

  private artifact(paint: () => void): void {
    this.doc.markContent('Artifact', { type: 'Layout' });
    paint();
    this.doc.endMarkedContent();
  }

  rule(x0: number, y: number, x1: number, thickness: number, colour: string): void {
    this.artifact(() =>
      this.doc.lineWidth(thickness).strokeColor(colour).moveTo(x0, y).lineTo(x1, y).stroke(),
    );
  }

  fill(x: number, y: number, width: number, height: number, colour: string): void {
    this.artifact(() => this.doc.rect(x, y, width, height).fillColor(colour).fill());
  }

  frame(x: number, y: number, width: number, height: number, thickness: number, colour: string): void {
    this.artifact(() => this.doc.lineWidth(thickness).strokeColor(colour).rect(x, y, width, height).stroke());
  }

  /** A triangle with a point up and a stroke in it, such as stands beside a caution. */
  triangle(x: number, y: number, size: number, colour: string): void {
    this.artifact(() => {
      const middle = x + size / 2;
      this.doc.lineWidth(0.9).lineJoin('round').strokeColor(colour).fillColor(colour);
      this.doc
        .moveTo(middle, y + 0.5)
        .lineTo(x + size, y + size)
        .lineTo(x, y + size)
        .closePath()
        .stroke();
      this.doc
        .lineCap('round')
        .moveTo(middle, y + 0.36 * size)
        .lineTo(middle, y + 0.66 * size)
        .stroke()
        .lineCap('butt');
      this.doc.circle(middle, y + 0.83 * size, 0.55).fill();
    });
  }

  /** An SVG document scaled into this box, told to readers by `alt`. */
  svg(x: number, y: number, width: number, height: number, document: string, alt: string): void {
    const figure = this.doc.struct('Figure', {
      alt,
      placement: 'Block',
      bbox: [x, y, x + width, y + height].map((v) => v * this.factor),
    });
    this.root.add(figure);
    const content = this.doc.markStructureContent('Figure');
    this.doc.save();
    drawSvg(this.doc, document, { x, y, width, height }, (words) => this.shown(words));
    this.doc.restore();
    this.doc.endMarkedContent();
    figure.add(content);
  }

  /** The whole document; nothing may be drawn after it. */
  async finish(): Promise<Blob> {
    const { doc } = this;
    // The library writes these into XML as they are.
    const metadata = doc.endMetadata.bind(doc);
    doc.endMetadata = () => {
      doc.info.Title = escaped(this.sheet.title);
      metadata();
    };
    const blob = toBlob(doc);
    doc.end();
    return blob;
  }
}

const drawn = { lineBreak: false, baseline: 'alphabetic' } as const;
