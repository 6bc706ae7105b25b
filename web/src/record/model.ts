// The page of a record as the core's use case "record" gives it: plain blocks in their order. Everything but a
// block's kind may be missing; what a painter doesn't know it passes over.
export interface RecordModel {
  title: string;
  /** With "{page}" and "{pages}" where the numbers go. */
  foot?: string;
  blocks: Block[];
}

export interface Column {
  label?: string;
  align?: string; // "left" or "right"
  share?: number; // of the width, beside the others
}
export interface Fact {
  label?: string;
  value?: string;
}
export interface Bar {
  label?: string;
  share?: number; // 0..1
  text?: string;
  words?: string;
  found?: boolean;
}
export interface Verdict {
  label?: string;
  text?: string;
  lines?: string[];
}
export interface Signature {
  role?: string;
  label?: string;
  name?: string;
  at?: string;
  path?: string; // SVG path data within width and height
  width?: number;
  height?: number;
}
export interface Letterhead {
  kind: 'letterhead';
  name?: string;
  lines?: string[];
}
export interface Heading {
  kind: 'heading';
  level?: number;
  text?: string;
}
export interface Words {
  kind: 'paragraph' | 'small';
  text?: string;
}
export interface Items {
  kind: 'list' | 'cautions';
  items?: string[];
}
export interface Facts {
  kind: 'facts';
  facts?: Fact[];
}
export interface Table {
  kind: 'table';
  caption?: string;
  columns?: Column[];
  rows?: string[][];
  sums?: number; // the last rows that are sums of those above
  narrow?: boolean; // no wider than its content needs
}
export interface Bars {
  kind: 'bars';
  caption?: string;
  bars?: Bar[];
}
export interface Figure {
  kind: 'figure';
  svg?: string;
  caption?: string;
  width?: number;
  height?: number;
}
export interface Verdicts {
  kind: 'verdicts';
  verdicts?: Verdict[];
}
export interface Signatures {
  kind: 'signatures';
  signatures?: Signature[];
}
export type Block =
  Letterhead | Heading | Words | Items | Facts | Table | Bars | Figure | Verdicts | Signatures;
