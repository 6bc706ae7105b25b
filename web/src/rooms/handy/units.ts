// What is typed into a tool: a number and its unit in one text, as one says it. Chips replace the unit.
import type { Units } from '../../shell/prefs';

/** Kinds of amounts a tool asks for, each with the units offered: first those of the system in use. */
export type Amount = keyof typeof offered;

const offered = {
  temperature: { us: ['°F'], metric: ['°C'] },
  difference: { us: ['°F'], metric: ['K'] },
  pressure: { us: ['psig', 'inHg vac'], metric: ['bar(g)', 'kPa(g)'] },
  saturation: {
    us: ['°F', 'psig', 'inHg vac', 'psia', 'micron'],
    metric: ['°C', 'bar(g)', 'kPa(g)', 'bar(a)', 'mbar'],
  },
  deep_vacuum: { us: ['micron', 'inHg vac', '°F'], metric: ['mbar', 'Pa', 'Torr', '°C'] },
  vacuum_only: { us: ['micron', 'Torr'], metric: ['mbar', 'Pa'] },
  any_pressure: {
    us: ['psig', 'inHg vac', 'psia', 'micron'],
    metric: ['bar(g)', 'kPa(g)', 'bar(a)', 'mbar', 'Torr'],
  },
  pressure_difference: { us: ['psi', 'inHg'], metric: ['bar', 'mbar', 'kPa'] },
  site: { us: ['ft', 'inHg'], metric: ['m', 'hPa'] },
  mass: { us: ['oz', 'lb'], metric: ['g', 'kg'] },
  length: { us: ['ft', 'in'], metric: ['m', 'cm'] },
  bore: { us: ['in'], metric: ['mm'] },
  any_length: { us: ['in', 'ft'], metric: ['mm', 'cm', 'm'] },
  room: { us: ['ft2', 'ft3'], metric: ['m2', 'm3'] },
  area: { us: ['ft2', 'in2'], metric: ['m2', 'cm2'] },
  volume: { us: ['ft3', 'in3'], metric: ['L', 'cm3', 'm3'] },
  circuit_volume: { us: ['L', 'in3'], metric: ['L', 'cm3'] },
  volume_flow: { us: ['cfm'], metric: ['m3/h', 'L/s', 'L/min'] },
  gas_flow: { us: ['L/min', 'g/min', 'oz/min'], metric: ['L/min', 'g/min', 'kg/h'] },
  leak_rate: { us: ['oz/yr', 'g/yr'], metric: ['g/yr', 'oz/yr'] },
  speed: { us: ['mph'], metric: ['m/s', 'km/h'] },
  probe_speed: { us: ['in/s'], metric: ['mm/s'] },
  current: { us: ['A'], metric: ['A'] },
  hours: { us: ['h', 'min'], metric: ['h', 'min'] },
  years: { us: ['years'], metric: ['years'] },
  energy: { us: ['kWh'], metric: ['kWh'] },
  power: { us: ['Btu/h', 'hp'], metric: ['W', 'kW'] },
  resistance: { us: ['ohm', 'kohm', 'Mohm'], metric: ['ohm', 'kohm', 'Mohm'] },
  share: { us: ['%'], metric: ['%'] },
  time: { us: ['min', 'h'], metric: ['min', 'h'] },
  short_time: { us: ['s', 'min'], metric: ['s', 'min'] },
} as const satisfies Record<string, Record<Units, readonly string[]>>;

/** The unit that counts when none was typed or tapped yet. */
export function usualUnit(amount: Amount, system: Units): string {
  return offered[amount][system][0];
}

/** The units to tap: the system's own, then the two first of the other's, each once. The rest can be typed. */
export function unitsFor(amount: Amount, system: Units): string[] {
  const other: Units = system === 'us' ? 'metric' : 'us';
  return [...new Set<string>([...offered[amount][system], ...offered[amount][other].slice(0, 2)])];
}

const figure =
  /^\s*((?:[-+−]\s*)?(?:\d+\s*[ -]\s*\d+\s*\/\s*\d+|\d+\s*\/\s*\d+|\d+(?:[.,]\d*)?|[.,]\d+))\s*(.*?)\s*$/su;

/** "3 1/4 oz" is the figure "3 1/4" and the unit "oz". A text that begins with no figure is all figure. */
export function split(text: string): { figure: string; unit: string } {
  const found = figure.exec(text);
  return found ? { figure: found[1]!.trim(), unit: found[2]! } : { figure: text.trim(), unit: '' };
}

const plain = (unit: string) => unit.toLowerCase().replace(/[°\s().]/g, '');
const spellings: Record<string, string> = {
  degf: 'f',
  fahrenheit: 'f',
  degc: 'c',
  celsius: 'c',
  microns: 'micron',
  inhgvacuum: 'inhgvac',
  invac: 'inhgvac',
  '"': 'in',
  inch: 'in',
  inches: 'in',
  feet: 'ft',
  foot: 'ft',
  "'": 'ft',
  ounce: 'oz',
  ounces: 'oz',
  lbs: 'lb',
  pound: 'lb',
  pounds: 'lb',
  gram: 'g',
  grams: 'g',
  mbara: 'mbar',
  mbarabs: 'mbar',
};

/** The chip that is meant by a typed unit, if one of them is. */
export function chipOf(unit: string, chips: readonly string[]): string | null {
  const word = plain(unit);
  const meant = spellings[word] ?? word;
  return meant === '' ? null : (chips.find((c) => plain(c) === meant) ?? null);
}

/** The text with its unit replaced; what doesn't begin with a figure stays: its number may be said in words. */
export function withUnit(text: string, unit: string): string {
  return startsWithFigure(text) ? `${split(text).figure} ${unit}` : text;
}

const startsWithFigure = (text: string) => figure.test(text);

/** What the core is asked: the text as typed, with `unit` behind a bare figure. Null while there is nothing. */
export function spoken(text: string, unit: string): string | null {
  const typed = text.trim();
  if (typed === '') return null;
  return startsWithFigure(typed) && split(typed).unit === '' ? `${typed} ${unit}` : typed;
}

/** The text with its sign turned. */
export function turned(text: string): string {
  const trimmed = text.trim();
  return /^[-−]/.test(trimmed) ? trimmed.replace(/^[-−]\s*/, '') : `-${trimmed.replace(/^\+\s*/, '')}`;
}

/** True where what stands is only the beginning of an amount: a sign, a point, nothing. */
export function unfinished(text: string): boolean {
  return /^\s*[-+−]?\s*[.,]?\s*$/.test(text);
}

export const unitOf = (said: string) => split(said).unit;

/** Whether a typed unit is one of temperature. */
export function isTemperature(unit: string): boolean {
  return /^(f|c|k|kelvin)$/.test(spellings[plain(unit)] ?? plain(unit));
}

/** Whether a typed unit is one of volume: "m3", "ft³", "L", "cuft". */
export function isVolume(unit: string): boolean {
  return /3|³|^cu|^l(it|$)/i.test(unit.trim());
}
