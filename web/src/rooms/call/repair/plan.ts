// The steps of the repair in the order they are worked in, and the entries that a tick, a reason or a move takes.
import type { Entry, NewEntry } from '../../../store/store';
import type { StepState } from '../read/fold';

/** Kept in the plan's order, but for steps that somebody put elsewhere by hand. A step that the order doesn't
    name (the diagnosis has brought it since) stands behind the one it follows in the plan. */
export function arranged<T extends { key: string }>(steps: readonly T[], order: readonly string[]): T[] {
  const named = order.filter((key) => steps.some((s) => s.key === key));
  const keys = [...new Set(named)];
  steps.forEach((step, i) => {
    if (keys.includes(step.key)) return;
    const before = steps[i - 1]?.key;
    keys.splice(before === undefined ? 0 : keys.indexOf(before) + 1, 0, step.key);
  });
  return keys.map((key) => steps.find((s) => s.key === key)!);
}

/** `key` moved by one place up (-1) or down (1); the same list where it can't. */
export function moved(keys: readonly string[], key: string, by: -1 | 1): string[] {
  const from = keys.indexOf(key);
  const to = from + by;
  const out = [...keys];
  if (from < 0 || to < 0 || to >= keys.length) return out;
  [out[from], out[to]] = [out[to]!, out[from]!];
  return out;
}

/** The entry that says the order now; of several the latest. */
export function orderEntry(standing: readonly Entry[]): Entry | undefined {
  return standing.filter((e) => e.kind === 'order').reduce<Entry | undefined>(later, undefined);
}
export function orderOf(standing: readonly Entry[]): string[] {
  const steps = orderEntry(standing)?.steps;
  return Array.isArray(steps) ? steps.map(String) : [];
}
const later = (a: Entry | undefined, b: Entry) => (a && a.at > b.at ? a : b);

export function orderChange(standing: readonly Entry[], steps: string[]): NewEntry {
  const before = orderEntry(standing);
  return { kind: 'order', steps, ...(before ? { replaces: before.id } : {}) };
}

export function stepChange(step: string, before: Entry | undefined, state: StepState, reason = ''): NewEntry {
  return {
    kind: 'step',
    step,
    state,
    ...(reason ? { reason } : {}),
    ...(before ? { replaces: before.id } : {}),
  };
}

/** The step to go on with: the first that is neither done nor passed over. */
export function nextOpen<T extends { key: string }>(
  steps: readonly T[],
  stateOfKey: (key: string) => StepState,
): T | null {
  return steps.find((s) => stateOfKey(s.key) === 'open') ?? null;
}
