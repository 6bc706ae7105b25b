// What each procedure's screen asks for: its settings, the readings of a running test, the figures that stand
// large. What the plate and the site say already, the core takes from the call.
import type { Amount } from '../../handy/units';

export interface ProcedureField {
  /** The key in the procedure's request. */
  key: string;
  amount?: Amount;
  choices?: readonly string[];
  signed?: boolean;
  /** Seldom needed: folded away. */
  more?: boolean;
  /** The words' keys, where they aren't the field's own. */
  label?: string;
  words?: string;
  hint?: string;
}
export interface ReadingPart {
  key: 'pressure' | 'temperature' | 'box' | 'current' | 'mass' | 'flow';
  /** The core's kind of quantity. */
  kind: string;
  vacuum?: boolean;
  optional?: boolean;
  label?: string;
}
export interface Procedure {
  name: string;
  fields: readonly ProcedureField[];
  readings?: readonly ReadingPart[];
  /** Keys of figures, the most telling first; the first two that the answer has stand large. */
  headline: readonly string[];
}

const table: readonly Procedure[] = [
  { name: 'flammable', fields: [], headline: [] },
  { name: 'opening', fields: [], headline: [] },
  { name: 'capillary', fields: [], headline: [] },
  { name: 'tube', fields: [], headline: [] },
  {
    name: 'tightness',
    fields: [{ key: 'volume', amount: 'volume' }],
    readings: [
      { key: 'pressure', kind: 'pressure' },
      { key: 'temperature', kind: 'temperature', label: 'gas_temperature' },
    ],
    headline: [],
  },
  { name: 'tracer', fields: [], headline: [] },
  {
    name: 'evacuation',
    fields: [],
    readings: [{ key: 'pressure', kind: 'pressure', vacuum: true, label: 'vacuum' }],
    headline: [],
  },
  {
    name: 'rise',
    fields: [],
    readings: [{ key: 'pressure', kind: 'pressure', vacuum: true, label: 'vacuum' }],
    headline: [],
  },
  { name: 'charging', fields: [], headline: [] },
  { name: 'proof', fields: [], headline: [] },
  { name: 'bring', fields: [], headline: [] },
  { name: 'worth', fields: [], headline: [] },
];

export const procedures: ReadonlyMap<string, Procedure> = new Map(table.map((p) => [p.name, p]));
