// A series typed by hand, as the core reads a trace: one column of time, one of values.
import type { TraceLayout, TraceWhat } from '../../engine/use_cases';
import { split } from '../../parts/keypad_text';
import { number } from '../../words/words';
import { numberOf, plain, type Trace } from '../call/read/trace';

/** Readings of the call that a trace knows, by its own word. */
const whats: Record<string, TraceWhat> = {
  compressor_current: 'current',
  supply_voltage: 'voltage',
  ...Object.fromEntries(
    (
      [
        'suction_pressure',
        'discharge_pressure',
        'evaporator_inlet_temp',
        'evaporator_outlet_temp',
        'evaporator_air_out_temp',
        'suction_line_temp',
        'discharge_line_temp',
        'condenser_middle_temp',
        'condenser_air_out_temp',
        'liquid_line_temp',
        'shell_temp',
      ] as const
    ).map((word) => [word, word]),
  ),
};
export const traceWord = (reading: string): TraceWhat | null => whats[reading] ?? null;

/** By the clock on the wall, as the logger of a machine has it: that is how the answer speaks of its times. */
function wallClock(at: number): string {
  const ms = at * 1000;
  return new Date(ms - new Date(ms).getTimezoneOffset() * 60_000).toISOString().slice(0, -1);
}

export function fileOf(trace: Trace, what: TraceWhat): { text: string; layout: TraceLayout } {
  return {
    text: trace.points.map((p) => `${wallClock(p.at)},${p.value}\n`).join(''),
    layout: {
      ...{ separator: 'comma', decimal: 'point', header_rows: 0, time: { form: 'year_first' } },
      columns: [
        { what: 'time', header: '', unit: '' },
        { what, header: '', unit: trace.unit },
      ],
    },
  };
}

/** A unit as an instrument has it: an entry may say "F". */
export const unitAsWritten = (unit: string) => (/^[fc]$/i.test(unit) ? `°${unit.toUpperCase()}` : unit);

/** An entry's text, "78 F" or "6.9 °C", as it is written in the language in use; a gap that doesn't part. */
export function asWritten(text: string): string {
  const { figure, unit } = split(text);
  const value = /^[-+−]?\d+([.,]\d+)?$/u.test(figure) ? numberOf(figure) : null;
  const digits = /[.,](\d+)$/.exec(figure)?.[1]?.length ?? 0;
  return value === null ? text : `${number(value, digits)}${unit && '\u00a0'}${unitAsWritten(unit)}`;
}

/** A step of the −/+ keys: what one sees move on an instrument. */
export function stepOf(unit: string): number {
  const word = plain(unit);
  if (['a', 'barg', 'bara', 'bar', 'mpag', 'mpaa', 'mpa'].includes(word)) return 0.1;
  if (['c', 'k'].includes(word)) return 0.5;
  return 1;
}

/** `figure` moved by `step`, without the crumbs of binary fractions. */
export const moved = (value: number, step: number): string => String(Math.round((value + step) * 1e6) / 1e6);
