// The screen of any procedure of the repair, driven by its row in procedures.ts: cautions, verdict, large
// figures, the running test where there is one, settings, and every figure with what is behind it.
import { useEffect, useState } from 'preact/hooks';
import type { Problem } from '../../../engine/engine';
import { Button, Choice, Disclosure, Notice } from '../../../parts/parts';
import { app } from '../../../shell/app';
import type { OpenCall } from '../../../store/store';
import { say } from '../../../words/words';
import { concerns, useStanding, worded } from '../../handy/problems';
import { Headline } from '../../handy/tool';
import type { ProcedureAnswer } from './answer_types';
import { Curves, Reckoned, Statements, StepCautions, Verdict } from './answer_view';
import { useProcedure } from './ask_procedure';
import type { Procedure } from './procedures';
import { readingsOfRun, runsOf } from './settings';
import { SettingField, useSetting } from './setting_field';
import { readingOf, TestReadings } from './test_readings';
import '../../handy/handy.css';
import './repair.css';

/** The run that is looked at: the last one, unless another was chosen or a new one begun. */
function useRun(call: OpenCall, procedure: string): [number, readonly number[], (run: number) => void] {
  const chosen = app.store.draft(`${call.id}.${procedure}.run`);
  const runs = runsOf(call.standing.value, procedure);
  const last = runs.at(-1)!;
  const run = Number(chosen.value) || last;
  const all = runs.includes(run) ? runs : [...runs, run];
  return [run, all, (next) => (chosen.value = String(next))];
}

/** The last answer stays in sight, marked, while a slip in what is typed keeps the core from a new one. */
function useLast(answer: ProcedureAnswer | null, key: string): ProcedureAnswer | null {
  const [last, setLast] = useState<{ key: string; answer: ProcedureAnswer } | null>(null);
  useEffect(() => {
    if (answer) setLast({ key, answer });
  }, [answer, key]);
  return answer ?? (last?.key === key ? last.answer : null);
}

function OtherProblem({ problem, procedure }: { problem: Problem | null; procedure: Procedure }) {
  if (!problem || procedure.fields.some((f) => concerns(problem, f.key))) return null;
  if (procedure.readings && readingOf(problem) !== null) return null;
  if (problem.field === 'readings') return <p class="quiet">{say('repair.more_readings')}</p>;
  return (
    <Notice tone="warn">
      <p data-name="procedure-problem">{worded(problem)}</p>
    </Notice>
  );
}

export function ProcedureScreen({
  call,
  procedure,
  planned,
}: {
  call: OpenCall;
  procedure: Procedure;
  /** Cautions that the plan puts at this step. */
  planned: readonly { key: string; text: string }[];
}) {
  const [run, runs, setRun] = useRun(call, procedure.name);
  const settings = procedure.fields.map((f) => useSetting(call, procedure.name, run, f));
  const typed: Record<string, string> = {};
  for (const s of settings) if (s.typed) typed[s.field.key] = s.typed;
  const asked = useProcedure(call, procedure.name, run, typed);
  const problem = useStanding(asked.problem, Object.keys(typed).length > 0 ? 700 : 0);
  const answer = useLast(asked.answer, `${procedure.name} ${run}`);
  const figures = procedure.headline.flatMap((key) => answer?.figures.filter((f) => f.key === key) ?? []);
  const large = (figures.length > 0 ? figures : (answer?.figures ?? [])).slice(0, 2);
  const often = settings.filter((s) => !s.field.more);
  const seldom = settings.filter((s) => s.field.more);
  const filled = seldom.some((s) => s.text !== '' || concerns(problem, s.field.key));
  const parts = (
    <>
      {often.map((s) => (
        <SettingField key={s.field.key} setting={s} problem={problem} />
      ))}
      {seldom.length > 0 && (
        <Disclosure summary={say('repair.more_settings')} open={filled}>
          {seldom.map((s) => (
            <SettingField key={s.field.key} setting={s} problem={problem} />
          ))}
        </Disclosure>
      )}
    </>
  );
  return (
    <div
      class={`tool procedure${asked.answer ? '' : ' stale'}`}
      data-name={`procedure:${procedure.name}`}
      data-busy={asked.busy ? 'true' : 'false'}
    >
      <Headline
        figures={large.length > 0 ? large.map((f) => ({ label: f.label, text: f.text })) : null}
        waiting={say(
          asked.busy ? 'shell.working' : procedure.readings ? 'repair.waiting_test' : 'repair.waiting',
        )}
      />
      <StepCautions
        lines={[...planned, ...(answer?.cautions ?? [])]}
        folded={readingsOfRun(call.standing.value, procedure.name, run).length > 0}
      />
      <OtherProblem problem={problem} procedure={procedure} />
      <Verdict answer={answer} />
      {procedure.readings ? (
        <>
          <TestReadings call={call} procedure={procedure} run={run} problem={problem} />
          <Curves answer={answer} />
          <Statements answer={answer} />
          <Disclosure summary={say('repair.settings')} open>
            {parts}
          </Disclosure>
        </>
      ) : (
        <>
          <Statements answer={answer} />
          {parts}
          <Curves answer={answer} />
        </>
      )}
      <Reckoned answer={answer} />
      {procedure.readings && (
        <section class="stack">
          {runs.length > 1 && (
            <Choice
              legend={say('repair.runs')}
              value={String(run)}
              options={runs.map((r) => ({ value: String(r), label: say('repair.run', { n: r }) }))}
              onChoose={(r) => setRun(Number(r))}
            />
          )}
          <Button icon="plus" onPress={() => setRun(runs.at(-1)! + 1)} name="new-run">
            {say('repair.new_run')}
          </Button>
        </section>
      )}
    </div>
  );
}
