// What we use of pdfkit 0.20, which brings no types of its own.
declare module 'pdfkit' {
  export interface Content {
    readonly content: unique symbol;
  }
  export interface Element {
    add(child: Element | Content): Element;
    end(): void;
  }
  export interface TextOptions {
    lineBreak?: boolean;
    baseline?: 'alphabetic';
    stroke?: boolean;
    fill?: boolean;
  }
  export interface Info {
    Title?: string;
    Author?: string;
    Subject?: string;
    Creator?: string;
    Producer?: string;
    CreationDate?: Date;
  }
  export interface Options {
    size?: [number, number];
    margin?: number;
    autoFirstPage?: boolean;
    pdfVersion?: '1.7';
    subset?: 'PDF/A-2b' | 'PDF/A-2a';
    tagged?: boolean;
    lang?: string;
    displayTitle?: boolean;
    font?: string | null;
    info?: Info;
  }
  export class PDFDocument {
    constructor(options: Options);
    info: Info;
    readonly _font: { font: { hasGlyphForCodePoint(codePoint: number): boolean } };
    endMetadata(): void;
    addPage(): this;
    end(): void;
    registerFont(name: string, face: Uint8Array): this;
    font(name: string): this;
    fontSize(points: number): this;
    widthOfString(words: string): number;
    text(words: string, x: number, y: number, options: TextOptions): this;
    save(): this;
    restore(): this;
    scale(factor: number): this;
    translate(x: number, y: number): this;
    rotate(degrees: number, options?: { origin: [number, number] }): this;
    transform(a: number, b: number, c: number, d: number, e: number, f: number): this;
    lineWidth(points: number): this;
    lineCap(cap: string): this;
    lineJoin(join: string): this;
    dash(lengths: number[] | number, options?: { phase: number }): this;
    undash(): this;
    fillColor(colour: string): this;
    strokeColor(colour: string): this;
    rect(x: number, y: number, width: number, height: number): this;
    circle(x: number, y: number, radius: number): this;
    ellipse(x: number, y: number, rx: number, ry: number): this;
    moveTo(x: number, y: number): this;
    lineTo(x: number, y: number): this;
    closePath(): this;
    path(data: string): this;
    fill(): this;
    stroke(): this;
    fillAndStroke(): this;
    clip(): this;
    struct(
      type: string,
      options?: { alt?: string; scope?: string; bbox?: number[]; placement?: string },
    ): Element;
    addStructure(element: Element): this;
    markContent(tag: 'Artifact', options?: { type: string }): this;
    markStructureContent(tag: string): Content;
    endMarkedContent(): this;
  }
}

declare module 'pdfkit/output' {
  import type { PDFDocument } from 'pdfkit';
  export function toBlob(document: PDFDocument): Promise<Blob>;
  export function toBytes(document: PDFDocument): Promise<Uint8Array<ArrayBuffer>>;
}
