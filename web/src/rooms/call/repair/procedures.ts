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

const yesNo = ['yes', 'no'] as const;

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
      { key: 'length', amount: 'length', more: true, label: 'release_length' },
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
      { key: 'low_loss', choices: yesNo, words: 'yes_no' },
      { key: 'pulled_back', choices: yesNo, words: 'yes_no', hint: 'pulled_back' },
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
      { key: 'volume', amount: 'circuit_volume', label: 'side_volume', hint: 'fall' },
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
  {
    name: 'tube',
    fields: [
      { key: 'new_bore', amount: 'bore' },
      { key: 'bore', amount: 'bore', label: 'old_bore', hint: 'tube' },
      { key: 'length', amount: 'length', label: 'old_length' },
      { key: 'bore_tolerance', amount: 'bore', more: true },
      { key: 'capacity', amount: 'power', more: true, hint: 'capacity' },
      { key: 'condensing', amount: 'saturation', more: true, signed: true },
      { key: 'evaporating', amount: 'saturation', more: true, signed: true },
      { key: 'subcooling', amount: 'difference', more: true },
    ],
    headline: ['tube_length', 'nitrogen_flow_new'],
  },
  {
    name: 'tightness',
    fields: [
      { key: 'wanted_pressure', amount: 'pressure' },
      { key: 'low_plate', amount: 'pressure' },
      { key: 'high_plate', amount: 'pressure' },
      { key: 'low_connected', choices: yesNo, words: 'yes_no' },
      { key: 'high_connected', choices: yesNo, words: 'yes_no' },
      { key: 'volume', amount: 'circuit_volume', hint: 'volume' },
      { key: 'wanted_leak', amount: 'leak_rate' },
      { key: 'gauge_resolution', amount: 'pressure_difference', more: true },
      { key: 'temperature_sigma', amount: 'difference', more: true },
      { key: 'joined', choices: ['capillary', 'open'], more: true },
      { key: 'fed', choices: ['low', 'high', 'both'], words: 'hoses', more: true },
      { key: 'gauge_side', choices: ['low', 'high'], words: 'hoses', more: true },
      { key: 'volume_low', amount: 'circuit_volume', more: true },
      { key: 'volume_high', amount: 'circuit_volume', more: true },
      { key: 'tube_bore', amount: 'bore', more: true },
      { key: 'tube_length', amount: 'length', more: true },
      { key: 'tracer', amount: 'share', more: true, label: 'trace_share' },
      { key: 'coldest_below', amount: 'difference', more: true },
      { key: 'service_pressure', amount: 'pressure', more: true },
    ],
    readings: [
      { key: 'pressure', kind: 'pressure' },
      { key: 'temperature', kind: 'temperature', label: 'gas_temperature', optional: true },
    ],
    headline: ['leak_found', 'smallest_leak', 'time_to_rule_out', 'allowed_pressure'],
  },
  {
    name: 'tracer',
    fields: [
      { key: 'pressure', amount: 'pressure', label: 'test_pressure' },
      { key: 'volume', amount: 'circuit_volume' },
      { key: 'detector', amount: 'leak_rate', hint: 'detector' },
      { key: 'covered', amount: 'share', hint: 'covered' },
      { key: 'share', amount: 'share', more: true, label: 'trace_share' },
      { key: 'part', amount: 'share', more: true, label: 'threshold_part' },
      { key: 'response', amount: 'short_time', more: true },
      { key: 'tip', amount: 'bore', more: true },
      { key: 'distance', amount: 'bore', more: true },
      { key: 'coldest', amount: 'temperature', more: true, signed: true },
      { key: 'service_pressure', amount: 'pressure', more: true },
      { key: 'worked_on', choices: yesNo, words: 'yes_no', more: true },
      { key: 'prior', amount: 'share', more: true, label: 'leak_prior' },
      { key: 'above', amount: 'leak_rate', more: true },
    ],
    headline: [],
  },
  {
    name: 'evacuation',
    fields: [
      { key: 'pump_speed', amount: 'volume_flow' },
      { key: 'bore', amount: 'bore', label: 'hose_bore', hint: 'hose_bore' },
      { key: 'length', amount: 'length', label: 'hose_length' },
      { key: 'cores', choices: ['in', 'out'] },
      { key: 'sides', choices: ['one', 'both'] },
      { key: 'volume', amount: 'circuit_volume', label: 'near_volume', hint: 'volume' },
      { key: 'vacuum', amount: 'vacuum_only' },
      { key: 'water', amount: 'mass', hint: 'water' },
      { key: 'vacuums', choices: ['2', '3', '4'], hint: 'vacuums' },
      { key: 'pump_ultimate', amount: 'vacuum_only', more: true },
      { key: 'far_volume', amount: 'circuit_volume', more: true },
      { key: 'capillary_bore', amount: 'bore', more: true, label: 'tube_bore' },
      { key: 'capillary_length', amount: 'length', more: true, label: 'tube_length' },
      { key: 'oil', amount: 'mass', more: true },
      { key: 'water_side', choices: ['near', 'far'], more: true },
      { key: 'break', amount: 'pressure', more: true, label: 'broken_to', signed: true },
    ],
    readings: [{ key: 'pressure', kind: 'pressure', vacuum: true, label: 'vacuum' }],
    headline: ['evacuation_near', 'evacuation_far'],
  },
  {
    name: 'rise',
    fields: [
      { key: 'volume', amount: 'circuit_volume', hint: 'volume' },
      { key: 'wet_t', amount: 'temperature', signed: true, hint: 'wet_t' },
      { key: 'resolution', amount: 'vacuum_only', more: true, label: 'gauge_resolution' },
      { key: 'service_pressure', amount: 'pressure', more: true },
    ],
    readings: [{ key: 'pressure', kind: 'pressure', vacuum: true, label: 'vacuum' }],
    headline: ['rise_minutes', 'rise_level', 'rise_leak_viscous'],
  },
  {
    name: 'charging',
    fields: [
      { key: 'before', amount: 'mass', hint: 'before' },
      { key: 'after', amount: 'mass' },
      { key: 'resolution', amount: 'mass', label: 'scale_step' },
      { key: 'bore', amount: 'bore', label: 'hose_bore', hint: 'hose_bore' },
      { key: 'length', amount: 'length', label: 'hose_length' },
      { key: 'hoses', choices: ['1', '2', '3'], label: 'how_many_hoses', words: 'how_many' },
      { key: 'hose_state', choices: ['vapour', 'liquid', 'empty'] },
      { key: 'stays', amount: 'mass', more: true, hint: 'stays' },
      { key: 'hose_pressure', amount: 'pressure', more: true },
    ],
    readings: [
      { key: 'mass', kind: 'mass', optional: true, label: 'mass_in' },
      { key: 'pressure', kind: 'pressure', optional: true, label: 'suction' },
      { key: 'temperature', kind: 'temperature', optional: true, label: 'evaporator_outlet' },
      { key: 'current', kind: 'current', optional: true },
    ],
    headline: ['charge_drawn', 'charge_in_machine', 'charge_by_readings', 'dose_next'],
  },
  {
    name: 'proof',
    fields: [{ key: 'product', amount: 'mass', hint: 'product' }],
    readings: [
      { key: 'box', kind: 'temperature' },
      { key: 'current', kind: 'current', optional: true },
      { key: 'pressure', kind: 'pressure', optional: true, label: 'suction' },
    ],
    headline: ['proof_sound', 'pull_down_time', 'pull_down_time_read'],
  },
  {
    name: 'bring',
    fields: [{ key: 'pressure', amount: 'pressure', label: 'inside' }],
    headline: [],
  },
  {
    name: 'worth',
    fields: [
      { key: 'labour_rate', hint: 'money' },
      { key: 'hours', amount: 'hours' },
      { key: 'parts_cost', hint: 'money' },
      { key: 'new_price', hint: 'money' },
      { key: 'energy_price', hint: 'energy_price' },
      { key: 'age', amount: 'years' },
      { key: 'remaining_years', amount: 'years' },
      { key: 'energy_repaired', amount: 'energy', more: true },
      { key: 'energy_new', amount: 'energy', more: true },
      { key: 'life', amount: 'years', more: true },
      { key: 'discount', amount: 'share', more: true },
    ],
    headline: [],
  },
];

export const procedures: ReadonlyMap<string, Procedure> = new Map(table.map((p) => [p.name, p]));
