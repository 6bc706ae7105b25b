// The plan of the repair as the screens have it: the steps the core gives, in the order and state that stand.
import { useMemo } from 'preact/hooks';
import type { Entry, OpenCall } from '../../../store/store';
import { say, type Key } from '../../../words/words';
import { stateOf, stepsOf, type StepState } from '../read/fold';
import { arranged, orderOf } from './plan';

export interface PlanStep {
  key: string;
  title: string;
  why: string;
  cautions: { key: string; text: string }[];
  procedure: string | null;
  skippable: boolean;
}
export interface ShownStep extends PlanStep {
  state: StepState;
  entry: Entry | undefined;
}

const usual = [
  ...['flammable', 'opening', 'recover', 'capillary', 'repair', 'tightness', 'tracer', 'evacuation'],
  ...['rise', 'charging', 'proof', 'record'],
];
const without = new Set(['recover', 'repair', 'record']);

export function usePlan(call: OpenCall): { steps: readonly ShownStep[]; busy: boolean } {
  const standing = call.standing.value;
  const planned: PlanStep[] = usual.map((key) => ({
    key,
    title: say(`repair.step_${key}` as Key),
    why: '',
    cautions: [],
    procedure: without.has(key) ? null : key,
    skippable: true,
  }));
  const steps = useMemo(() => {
    const entries = stepsOf(standing);
    return arranged(planned, orderOf(standing)).map((step) => ({
      ...step,
      state: stateOf(entries.get(step.key)),
      entry: entries.get(step.key),
    }));
  }, [standing, JSON.stringify(planned)]);
  return { steps, busy: false };
}
