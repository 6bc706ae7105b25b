// The cautions of this machine: where the hand acts, and which are not ticked yet.
import type { Entry, OpenCall } from '../../../store/store';
import { useExpected } from '../read/expected';
import { stateOf, stepsOf } from '../read/fold';

export interface Caution {
  key: string;
  text: string;
  place: Place;
}
export const places = ['round', 'covers', 'circuit', 'always'] as const;
export type Place = (typeof places)[number];

/** By the core's key; what is not named here concerns the room and the machine as a whole. */
const at: Record<string, Place> = {
  caution_electrical: 'covers',
  caution_capacitor: 'covers',
  caution_stay_closed: 'circuit',
  caution_no_torch: 'circuit',
  caution_pressure: 'circuit',
  caution_defer: 'always',
};
export const placeOf = (key: string): Place => at[key] ?? 'round';
export const stepName = (key: string) => `safety.${key}`;

export function openOnes(cautions: readonly { key: string }[], standing: readonly Entry[]): number {
  const steps = stepsOf(standing);
  return cautions.filter((c) => stateOf(steps.get(stepName(c.key))) === 'open').length;
}

export function useCautions(call: OpenCall): readonly Caution[] | null {
  const { answer } = useExpected(call);
  return answer ? answer.cautions.map((c) => ({ key: c.key, text: c.text, place: placeOf(c.key) })) : null;
}
