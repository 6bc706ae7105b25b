// The debrief: what it really was, both ways as a picture and step by step, what the decision would have cost, and
// one thing to remember. The core reckons it in a worker; the page shows how far it is.
import { useEffect, useState } from 'preact/hooks';
import { ProblemError, type Problem, type UseCases } from '../../engine/engine';
import { Bar, Button, Disclosure, Notice } from '../../parts/parts';
import { app } from '../../shell/app';
import { Frame } from '../../shell/frame';
import { prefs } from '../../shell/prefs';
import { say } from '../../words/words';
import { RestsOn } from '../handy/tool';
import { Stuck, ThrowAway } from './practice';
import { anySeed, begin, throwAway, type Standing } from './standing';
import { Timeline } from './timeline';

type Answer = UseCases['practice_debrief']['answer'];
type Path = Answer['yours'];

function useDebrief(now: Standing, decision: string) {
  const [answer, setAnswer] = useState<Answer | null>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  const [share, setShare] = useState(0);
  const request = { ...now.of, actions: [...now.actions], decision };
  const key = JSON.stringify([request, prefs.language.value, prefs.units.value]);
  useEffect(() => {
    const stop = new AbortController();
    setShare(0);
    app.engine.ask('practice_debrief', request, { signal: stop.signal, onProgress: setShare }).then(
      (a) => stop.signal.aborted || (setAnswer(a), setProblem(null)),
      (error: unknown) => {
        if (stop.signal.aborted) return;
        if (!(error instanceof ProblemError)) throw error;
        setProblem(error.problem);
      },
    );
    return () => stop.abort();
  }, [key]);
  return { answer, problem, share };
}

function Way({ title, path, name, fold }: { title: string; path: Path; name: string; fold: boolean }) {
  const steps = (
    <ol class="steps">
      {path.steps.map((s, i) => (
        <li key={i} class="panel">
          <p class="head">
            <span class="number">{i + 1}</span>
            <span>
              {s.label}: <strong>{s.shown}</strong>
            </span>
            <span class="quiet small">{s.minutes.text}</span>
          </p>
          <p>{s.told.text}</p>
          {s.reasons.map((r) => (
            <p class="small quiet" key={r.text}>
              {r.text}
            </p>
          ))}
          <ul class="leading small">
            {s.leading.map((c) => (
              <li key={c.cause}>
                <span>{c.label}</span>
                <span class="number">{c.text}</span>
                <Bar share={c.probability} label={c.label} />
              </li>
            ))}
          </ul>
          {s.better && <p class="better small">{s.better.text}</p>}
        </li>
      ))}
    </ol>
  );
  return (
    <section class="way-text stack" aria-label={title} data-name={name}>
      <h2>{title}</h2>
      <p>{path.text.text}</p>
      {path.missed && <p class="small">{path.missed.text}</p>}
      {path.enough && <p class="small">{path.enough.text.text}</p>}
      {path.steps.length > 0 &&
        (fold ? <Disclosure summary={say('practice.step_by_step')}>{steps}</Disclosure> : steps)}
    </section>
  );
}

function Told({ answer }: { answer: Answer }) {
  const { grade } = answer.verdict;
  return (
    <>
      <div data-name="verdict" data-grade={grade} class="stack">
        <Notice tone={grade === 'right' ? 'good' : grade === 'nearly' ? 'warn' : 'note'}>
          <p>
            <strong>{answer.verdict.text.text}</strong>
          </p>
          {answer.truth.text.key === 'was_how' && <p>{answer.truth.text.text}</p>}
          <p>{answer.verdict.knowable.text}</p>
        </Notice>
      </div>
      <Timeline yours={answer.yours} best={answer.best} label={answer.truth.label} />
      <section class="stack" aria-label={say('practice.parting')} data-name="parting">
        <h2>{say('practice.parting')}</h2>
        <p>{answer.parting.text.text}</p>
      </section>
      {(answer.cost ?? answer.sign) && (
        <section class="stack" aria-label={say('practice.cost')} data-name="cost">
          <h2>{say('practice.cost')}</h2>
          {answer.cost && <p>{answer.cost.text.text}</p>}
          {answer.sign && <p>{answer.sign.text.text}</p>}
        </section>
      )}
      <section class="panel remember" aria-label={say('practice.remember')} data-name="remember">
        <h2>{say('practice.remember')}</h2>
        {answer.remember.map((r) => (
          <p key={r.text}>{r.text}</p>
        ))}
      </section>
      <div class="ways">
        <Way title={say('practice.yours')} path={answer.yours} name="yours" fold={false} />
        <Way title={say('practice.best')} path={answer.best} name="best" fold={false} />
      </div>
      <RestsOn about={answer.about}>
        <p class="small">{say('practice.how_reckoned')}</p>
      </RestsOn>
    </>
  );
}

export function Debrief({ now, decision }: { now: Standing; decision: string }) {
  const { answer, problem, share } = useDebrief(now, decision);
  const again = now.of;
  return (
    <Frame title={say('practice.debrief')} back={{ room: 'calls' }} actions={<ThrowAway done />}>
      {problem && <Stuck problem={problem} />}
      {!answer && !problem && (
        <div class="stack" data-name="reckoning">
          <p class="quiet">{say('practice.reckoning')}</p>
          <Bar share={share} label={say('practice.reckoning')} />
        </div>
      )}
      {answer && <Told answer={answer} />}
      {'level' in again && (
        <Button
          kind="main"
          wide
          name="another"
          onPress={() => begin({ seed: anySeed(), level: again.level })}
        >
          {say('practice.another')}
        </Button>
      )}
      <Button wide onPress={throwAway} name="levels">
        {say('practice.to_levels')}
      </Button>
    </Frame>
  );
}
