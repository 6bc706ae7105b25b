// The plan of the repair as the screens have it: the steps the core gives for this call and its diagnosis, in the
// order and state that stand. Both are read off the log at once; the core's answer follows.
import { computed } from '@preact/signals';
import { useMemo } from 'preact/hooks';
import type { Problem } from '../../../engine/engine';
import { prefs } from '../../../shell/prefs';
import type { OpenCall } from '../../../store/store';
import type { Entry } from '../../../store/store';
import { followed, type Live } from '../live_answer';
import { useOnce } from '../read/ask_once';
import { stateOf, stepsOf, type StepState } from '../read/fold';
import { callText } from './ask_procedure';
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
export interface Plan {
  steps: readonly ShownStep[];
  problem: Problem | null;
  busy: boolean;
}

/** The plan hangs on the machine, its diagnosis and the cause found; state and order are put on here. */
const otherKinds: ReadonlySet<string> = new Set([
  ...['note', 'step', 'order', 'procedure', 'test_reading', 'refrigerant_moved', 'part', 'work'],
  ...['product_temperature', 'signature', 'watch'],
]);

/** The diagnosis that the plan goes by: the final one, or the one before while a new one grows. Null while there
    is none: nothing is planned before something is known. */
function leadsOf(live: Live): { cause: string; probability: number }[] | null {
  if (live.problem) return [];
  const causes = live.answer?.causes;
  if (!causes || (!live.grown?.final && live.busy && causes.length === 0)) return null;
  // To two digits: an answer that grows by a hair plans nothing anew.
  return causes
    .filter((c) => c.probability >= 0.005)
    .map((c) => ({ cause: c.cause, probability: Math.floor(c.probability * 100) / 100 }));
}

export function usePlan(call: OpenCall): Plan {
  const leads = leadsOf(followed(call).live.value);
  const text = useMemo(
    () =>
      computed(() => {
        void call.standing.value;
        return callText(call, null, otherKinds);
      }),
    [call],
  ).value;
  const { answer, problem, busy } = useOnce<{ steps: PlanStep[] }>(
    'plan',
    leads && { call_text: text, causes: leads, units: prefs.units.value },
  );
  const standing = call.standing.value;
  const steps = useMemo(() => {
    const entries = stepsOf(standing);
    return arranged(answer?.steps ?? [], orderOf(standing)).map((step) => ({
      ...step,
      state: stateOf(entries.get(step.key)),
      entry: entries.get(step.key),
    }));
  }, [answer, standing]);
  return { steps, problem, busy: busy || leads === null };
}
