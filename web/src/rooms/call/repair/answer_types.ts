// The one form in which every procedure of the repair answers (data/schemas/procedure.answer.json).
export interface Told {
  key: string;
  text: string;
}
export interface Quantity {
  si: number | null;
  value: number | null;
  unit: string;
  text: string;
}
export interface Figure {
  key: string;
  label: string;
  value: Quantity | null;
  text: string;
  formula: string;
  where: { key: string; symbol: string; label: string; text: string }[];
  cited: string[];
  basis: string;
  basis_text: string;
}
export interface AnswerTable {
  key: string;
  label: string;
  columns: Told[] | { key: string; label: string }[];
  rows: string[][];
}
export interface Curve {
  key: string;
  label: string;
  x: { label: string; unit: string };
  y: { label: string; unit: string };
  lines: CurveLine[];
}
export interface CurveLine {
  key: string;
  label: string;
  kind: string;
  points: [number, number][];
}
export interface ProcedureAnswer {
  procedure: string;
  refrigerant: string | null;
  safety_class: string | null;
  verdict: Told | null;
  cautions: Told[];
  statements: Told[];
  asks: Told[];
  figures: Figure[];
  tables: AnswerTable[];
  curves: Curve[];
  about: { program: string; version: string; data: string; references: { key: string; citation: string }[] };
}
