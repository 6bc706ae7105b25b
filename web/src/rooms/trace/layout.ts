// A layout as it is corrected in the app: what a column is, its unit, and the answers to what stayed open.
import type { TraceLayout, TraceQuestion, TraceWhat, UseCases } from '../../engine/use_cases';

export type ColumnChoice = UseCases['trace_layout']['answer']['choices']['columns'][number];

export interface Change {
  column: number;
  /** a name within a column of sensors, where one row holds one value */
  sensor?: string;
  what?: TraceWhat;
  unit?: string;
}

/** Another kind of column takes its own first unit, unless it has one that is right already. */
function changed<T extends { what: TraceWhat; unit?: string }>(
  one: T,
  choices: readonly ColumnChoice[],
  to: Change,
): T {
  const what = to.what ?? one.what;
  const units = choices.find((c) => c.value === what)?.units ?? [];
  const wanted = to.unit ?? one.unit ?? '';
  const known = units.includes(wanted) || (to.what === undefined && wanted !== '');
  return { ...one, what, unit: units.length === 0 ? '' : known ? wanted : units[0]! };
}

export function withColumn(layout: TraceLayout, choices: readonly ColumnChoice[], to: Change): TraceLayout {
  if (to.sensor !== undefined)
    return {
      ...layout,
      sensors: layout.sensors?.map((s) => (s.name === to.sensor ? changed(s, choices, to) : s)) ?? [],
    };
  return {
    ...layout,
    columns: layout.columns.map((c, i) => (i === to.column ? changed(c, choices, to) : c)),
  };
}

/** What a count of time may be in, s. */
export const elapsedUnits: Record<string, number> = { ms: 0.001, s: 1, min: 60, h: 3600 };

/** What an answer to a question changes: the time's form or unit, or what a column is, or its unit. */
export function answered(
  layout: TraceLayout,
  choices: readonly ColumnChoice[],
  question: TraceQuestion,
  value: string,
): TraceLayout {
  if (question.key === 'day_or_month')
    return { ...layout, time: { ...layout.time, form: value as TraceLayout['time']['form'], open: false } };
  if (question.key === 'elapsed_unit')
    return { ...layout, time: { ...layout.time, seconds_per_unit: elapsedUnits[value] ?? 1 } };
  const place = {
    column: question.column ?? -1,
    ...(question.sensor === null ? {} : { sensor: question.sensor }),
  };
  return withColumn(
    layout,
    choices,
    choices.some((c) => c.value === value)
      ? { ...place, what: value as TraceWhat }
      : { ...place, unit: value },
  );
}

/** Which of a question's options the layout follows now. */
export function standingAnswer(layout: TraceLayout, question: TraceQuestion): string | null {
  const is = (value: string) => {
    if (question.key === 'day_or_month') return layout.time.form === value;
    if (question.key === 'elapsed_unit') return (layout.time.seconds_per_unit ?? 1) === elapsedUnits[value];
    const one =
      question.sensor === null
        ? layout.columns[question.column ?? -1]
        : layout.sensors?.find((s) => s.name === question.sensor);
    return one !== undefined && (one.what === value || one.unit === value);
  };
  return question.options.find((o) => is(o.value))?.value ?? null;
}

/** Whether it can be followed: a time, and a column of use with a unit where one is needed. */
export function complete(layout: TraceLayout, choices: readonly ColumnChoice[]): boolean {
  const measured = (what: TraceWhat) =>
    what === 'door' || (choices.find((c) => c.value === what)?.units.length ?? 0) > 0;
  const timed = layout.columns.some((c) => c.what === 'time' || c.what === 'time_of_day');
  return timed && [...layout.columns, ...(layout.sensors ?? [])].some((c) => measured(c.what));
}
