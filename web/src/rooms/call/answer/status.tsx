// How far the answer has grown, what it rests on, and what keeps it from coming.
import type { Grown, Problem } from '../../../engine/engine';
import { Button, Notice } from '../../../parts/parts';
import { href, type Stage } from '../../../shell/route';
import type { OpenCall } from '../../../store/store';
import { say, sayCount } from '../../../words/words';
import { askedAbout, type Live } from '../live_answer';

/** One line of one height, so that nothing below it moves while the answer grows. */
export function Growth({ live }: { live: Live }) {
  const { answer, grown, stale, busy, failed } = live;
  const machines = answer?.quality.solves ?? 0;
  return (
    <div class="growth" data-name="growth" data-grown={stale ? 'before' : busy ? 'growing' : 'final'}>
      <p>{growthText(grown, machines, stale, busy, failed !== null)}</p>
      <div
        class="growth-line"
        role="progressbar"
        aria-label={say('answer.growing')}
        aria-valuemin={0}
        aria-valuemax={100}
        aria-valuenow={Math.round(100 * (stale ? 0 : (grown?.share ?? 0)))}
      >
        <span class="settles" style={{ width: `${100 * (stale ? 0 : (grown?.share ?? 0))}%` }} />
      </div>
    </div>
  );
}

function growthText(
  grown: Grown | null,
  machines: number,
  stale: boolean,
  busy: boolean,
  failed: boolean,
): string {
  if (stale) return say(failed ? 'answer.before_change' : 'answer.before_change_busy');
  if (!grown) return busy ? say('answer.beginning') : '';
  if (failed) return sayCount('answer.stopped_at', machines);
  if (!grown.final) return sayCount('answer.rough', machines);
  return sayCount('answer.rests_on', machines);
}

const stageOfKind: Record<string, Stage> = { reading: 'read', observation: 'look' };

/** Where what is missing can be given, whatever language the problem is told in. */
export function stageFor(problem: Problem, call: OpenCall): Stage {
  const standing = call.standing.value;
  if (!standing.some((e) => e.kind === 'nameplate' && e.cabinet)) return 'unit';
  // Of entries that contradict each other the core names the ids, of one it can't read the place in the list.
  const named = standing.find((e) => problem.given.includes(e.id));
  const place = Number(/\d+/.exec(problem.field)?.[0] ?? NaN);
  const kind = named?.kind ?? askedAbout(call)[place - 1]?.kind ?? '';
  return stageOfKind[kind] ?? 'unit';
}

const goThere: Partial<Record<Stage, 'answer.to_unit' | 'answer.to_read' | 'answer.to_look'>> = {
  unit: 'answer.to_unit',
  read: 'answer.to_read',
  look: 'answer.to_look',
};

export function Missing({ problem, call }: { problem: Problem; call: OpenCall }) {
  const stage = stageFor(problem, call);
  return (
    <section class="stack" data-name="missing">
      <h2>{say('answer.missing')}</h2>
      <Notice tone="warn">
        <p>
          <strong>{problem.field}</strong>
        </p>
        {problem.why && <p>{problem.why}</p>}
        <p class="small">
          {say('shell.given')}: {problem.given}
        </p>
        {problem.allowed && (
          <p class="small">
            {say('shell.allowed')}: {problem.allowed}
          </p>
        )}
      </Notice>
      <Button kind="main" wide href={href({ room: 'call', id: call.id, stage })} name="to-missing">
        {say(goThere[stage] ?? 'answer.to_unit')}
      </Button>
    </section>
  );
}

export function Failed({ text, onAgain }: { text: string; onAgain: () => void }) {
  return (
    <Notice tone="bad">
      <p>{say('answer.failed')}</p>
      <p class="small">{text}</p>
      <Button onPress={onAgain} name="again">
        {say('answer.again')}
      </Button>
    </Notice>
  );
}
