// The practice call on this phone: at most one, in a place of its own, so that it never stands among real calls.
// Kept at every tap like what is being typed elsewhere (store/drafts.ts): a reload or a dead battery loses nothing.
import { app } from '../../shell/app';
import type { UseCases } from '../../engine/engine';

export type Level = NonNullable<UseCases['practice_call']['request']['level']>;
export const levels: readonly Level[] = ['first', 'working_day', 'hard'];

export interface Standing {
  /** Which machine: drawn by seed and level, or one that was recorded. */
  of: { seed: number; level: Level } | { recorded: string };
  actions: readonly string[];
  decision: string | null;
}

const kept = () => app.store.draft('practice');

function isStanding(x: unknown): x is Standing {
  if (typeof x !== 'object' || x === null) return false;
  const { of, actions, decision } = x as Record<string, unknown>;
  if (typeof of !== 'object' || of === null) return false;
  const drawn =
    'seed' in of && Number.isSafeInteger(of.seed) && 'level' in of && levels.includes(of.level as Level);
  const recorded = 'recorded' in of && typeof of.recorded === 'string';
  return (
    (drawn || recorded) &&
    Array.isArray(actions) &&
    actions.every((a) => typeof a === 'string') &&
    (decision === null || typeof decision === 'string')
  );
}

/** What a kept text says; null when there is none or it can't be read. */
export function read(text: string): Standing | null {
  try {
    const found: unknown = JSON.parse(text || 'null');
    return isStanding(found) ? found : null;
  } catch {
    return null;
  }
}

export const standing = (): Standing | null => read(kept().value);
const put = (to: Standing | null) => (kept().value = to === null ? '' : JSON.stringify(to));

export function begin(of: Standing['of']): void {
  put({ of, actions: [], decision: null });
}
/** Nothing more is done once it is decided. */
export function take(action: string): void {
  const now = standing();
  if (now && now.decision === null) put({ ...now, actions: [...now.actions, action] });
}
export function decide(cause: string): void {
  const now = standing();
  if (now && now.decision === null) put({ ...now, decision: cause });
}
export const throwAway = (): void => void put(null);

/** Another machine each time. */
export const anySeed = (): number => crypto.getRandomValues(new Uint32Array(1))[0]!;
