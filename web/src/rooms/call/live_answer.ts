// The diagnosis of the open call, growing: asked anew whenever what stands in the call changes, shared by all
// stages. The last answer stays, marked as from before the change, until the first new one is there.
import { computed, effect, signal, untracked, type ReadonlySignal } from '@preact/signals';
import { ProblemError, type Engine, type Grown, type Problem, type UseCases } from '../../engine/engine';
import { app } from '../../shell/app';
import { prefs } from '../../shell/prefs';
import { diagnosisKinds } from '../../store/entry';
import type { OpenCall } from '../../store/store';

export type Answer = UseCases['diagnose']['answer'];
type Request = UseCases['diagnose']['request'];

export interface Live {
  answer: Answer | null;
  /** How many machines the answer shown rests on, and whether more are coming. */
  grown: Grown | null;
  /** The answer shown is from before the latest change. */
  stale: boolean;
  busy: boolean;
  /** What keeps the core from answering: something missing, or something typed that can't be. */
  problem: Problem | null;
  /** The engine itself gave way; nothing about the call. */
  failed: string | null;
}

export interface Question {
  /** The same key is the same question. */
  key: string;
  request: Request;
}

export interface Followed {
  live: ReadonlySignal<Live>;
  /** Asks the present question once more, after a failure. */
  again(): void;
}

const nothing: Live = {
  answer: null,
  grown: null,
  stale: false,
  busy: false,
  problem: null,
  failed: null,
};

/** While typing goes on the question waits this long for the next change. */
const pause = 150;
/** Going from one stage to the next leaves nobody looking for a moment; that doesn't stop the reckoning. */
const patience = 1000;

/** Works only while somebody looks at `live`. */
export function follow(question: ReadonlySignal<Question>, diagnose: () => Engine['diagnose']): Followed {
  let shownKey: string | null = null; // the question that what is shown answers
  let settled = false; // and whether that is its last word
  let asking: AbortController | null = null;
  let soon: ReturnType<typeof setTimeout> | undefined;
  let leaving: ReturnType<typeof setTimeout> | undefined;
  let unfollow: (() => void) | null = null;

  const drop = () => {
    clearTimeout(soon);
    asking?.abort();
    asking = null;
  };

  const ask = async ({ key, request }: Question) => {
    const mine = (asking = new AbortController());
    const { signal: stop } = mine;
    try {
      await diagnose()(
        request,
        (answer, grown) => {
          if (stop.aborted) return;
          shownKey = key;
          settled = grown.final;
          live.value = { ...nothing, answer, grown, busy: !grown.final };
        },
        { signal: stop },
      );
    } catch (error) {
      if (stop.aborted) return;
      // A core that broke down comes as a problem of the field "core": nothing the person could give.
      if (error instanceof ProblemError && error.problem.field !== 'core') {
        shownKey = key;
        settled = true;
        live.value = { ...nothing, problem: error.problem };
      } else {
        live.value = {
          ...live.peek(),
          busy: false,
          failed: error instanceof Error ? error.message : String(error),
        };
      }
    }
  };

  const begin = (wanted: Question, wait: number) => {
    drop();
    const shown = live.peek();
    const same = wanted.key === shownKey;
    if (same && settled) {
      live.value = { ...shown, stale: false, busy: false, failed: null };
      return;
    }
    live.value = { ...shown, stale: shown.answer !== null && !same, busy: true, failed: null };
    soon = setTimeout(() => void ask(wanted), wait);
  };

  const live = signal<Live>(nothing, {
    watched() {
      clearTimeout(leaving);
      // Not at once: a component that begins to look is being drawn just now.
      queueMicrotask(() => {
        let first = true;
        unfollow ??= effect(() => {
          const wanted = question.value;
          untracked(() => begin(wanted, first ? 0 : pause));
          first = false;
        });
      });
    },
    unwatched() {
      leaving = setTimeout(() => {
        unfollow?.();
        unfollow = null;
        drop();
      }, patience);
    },
  });

  return {
    live,
    again() {
      settled = false;
      begin(question.peek(), 0);
    },
  };
}

/** The entries the diagnosis rests on: notes and the repair's steps don't change what the machine was like. */
export function askedAbout(call: OpenCall): { kind?: string }[] {
  return (call.file().entries as { kind?: string }[]).filter((entry) => diagnosisKinds.has(entry.kind ?? ''));
}

function questionOf(call: OpenCall): ReadonlySignal<Question> {
  return computed(() => {
    void call.standing.value;
    const file = call.file();
    const entries = askedAbout(call);
    // The units switch outranks the units a call was begun in.
    const learned = app.store.memory.value;
    const request = {
      call: { ...file, entries },
      units: prefs.units.value,
      ...(learned === null ? {} : { memory: JSON.parse(learned) as object }),
    } as Request;
    return { key: JSON.stringify([request, prefs.language.value]), request };
  });
}

const known = new WeakMap<OpenCall, Followed>();

export function followed(call: OpenCall): Followed {
  let found = known.get(call);
  if (!found) known.set(call, (found = follow(questionOf(call), () => app.engine.diagnose.bind(app.engine))));
  return found;
}

/** The growing diagnosis of an open call, the same for all who ask. */
export function liveAnswer(call: OpenCall): ReadonlySignal<Live> {
  return followed(call).live;
}
