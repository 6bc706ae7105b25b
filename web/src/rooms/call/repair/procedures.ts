// What each procedure's screen asks for: its settings, the readings of a running test, the figures that stand
// large. What the plate and the site say already, the core takes from the call.
import type { Amount } from '../../handy/units';

export interface ProcedureField {
  /** The key in the procedure's request. */
  key: string;
  amount?: Amount;
  choices?: readonly string[];
  signed?: boolean;
  /** A time that is stopped while it runs: start and stop to tap beside the field. */
  stopwatch?: boolean;
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
  {
    name: 'flammable',
    fields: [
      { key: 'area', amount: 'area', label: 'floor' },
      { key: 'leaves', choices: ['recovered', 'released'] },
      { key: 'height', amount: 'length', more: true, label: 'room_height' },
      { key: 'share', amount: 'share', more: true, label: 'limit_share', hint: 'limit_share' },
      { key: 'pressure', amount: 'pressure', more: true, label: 'inside' },
      { key: 'bore', amount: 'bore', more: true, label: 'release_bore' },
      { key: 'wind', amount: 'speed', more: true },
      { key: 'changes', more: true, hint: 'changes' },
    ],
    headline: ['smallest_floor_area', 'share_in_room'],
  },
  {
    name: 'opening',
    fields: [
      { key: 'hoses', choices: ['low', 'high', 'both'] },
      { key: 'low_length', amount: 'length' },
      { key: 'low_bore', amount: 'bore', hint: 'hose_bore' },
      { key: 'high_length', amount: 'length' },
      { key: 'high_bore', amount: 'bore' },
      { key: 'low_loss', choices: ['yes', 'no'], words: 'yes_no' },
      { key: 'pulled_back', choices: ['yes', 'no'], words: 'yes_no', hint: 'pulled_back' },
      { key: 'suction_pressure', amount: 'pressure', more: true, signed: true },
      { key: 'head_pressure', amount: 'pressure', more: true },
      { key: 'hose_t', amount: 'temperature', more: true, signed: true },
    ],
    headline: [],
  },
  {
    name: 'capillary',
    fields: [
      { key: 'supply', amount: 'pressure', hint: 'supply' },
      { key: 'flow', amount: 'gas_flow', hint: 'flow' },
      { key: 'volume', amount: 'volume', label: 'side_volume', hint: 'fall' },
      { key: 'fell_to', amount: 'pressure' },
      { key: 'time', amount: 'short_time', stopwatch: true, label: 'fall_time' },
      { key: 'bore', amount: 'bore', label: 'tube_bore', hint: 'tube' },
      { key: 'length', amount: 'length', label: 'tube_length' },
      { key: 'side_plate', amount: 'pressure', more: true },
      { key: 'behind', amount: 'pressure', more: true, signed: true },
      { key: 'flow_at', amount: 'temperature', more: true, signed: true },
    ],
    headline: [],
  },
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
  {
    name: 'tracer',
    fields: [
      { key: 'pressure', amount: 'pressure', label: 'test_pressure' },
      { key: 'volume', amount: 'volume' },
      { key: 'detector', amount: 'leak_rate', hint: 'detector' },
      { key: 'covered', amount: 'share', hint: 'covered' },
      { key: 'share', amount: 'share', more: true, label: 'trace_share' },
      { key: 'part', amount: 'share', more: true, label: 'threshold_part' },
      { key: 'response', amount: 'short_time', more: true },
      { key: 'tip', amount: 'bore', more: true },
      { key: 'distance', amount: 'bore', more: true },
      { key: 'coldest', amount: 'temperature', more: true, signed: true },
      { key: 'service_pressure', amount: 'pressure', more: true },
      { key: 'prior', amount: 'share', more: true, label: 'leak_prior' },
      { key: 'above', amount: 'leak_rate', more: true },
    ],
    headline: [],
  },
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
