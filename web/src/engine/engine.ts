// The core, asked from the page: every use case by its name, and a diagnosis that sharpens while it is looked
// at. The work is done in workers (hands.ts); nothing here blocks the page.
import coreUrl from './build/coldwright.wasm?url';
import { grow, usualPopulation, type Grown } from './grow';
import { Hands } from './hands';
import type { LoggedFile } from './messages';
import type { Speech } from './module';
import type { UseCaseName, UseCases } from './use_cases';

export type { UseCaseName, UseCases } from './use_cases';

/** Why there is no answer: what was given, what would be taken, and the reason. */
export interface Problem {
  field: string;
  given: string;
  allowed: string;
  why: string;
  /** all of it in one line */
  text: string;
}

export class ProblemError extends Error {
  constructor(readonly problem: Problem) {
    super(problem.text);
    this.name = 'ProblemError';
  }
}

export interface AskOptions {
  signal?: AbortSignal | undefined;
  onProgress?: ((share: number) => void) | undefined;
}

export type { Grown } from './grow';

export type DiagnoseRequest = UseCases['diagnose']['request'];
export type DiagnoseAnswer = UseCases['diagnose']['answer'];
export type TraceAnswer = UseCases['trace']['answer'];
export type TraceRequest = Omit<UseCases['trace']['request'], 'files'>;

export interface Engine {
  /** One use case; rejects with a ProblemError, or with the signal's reason. */
  ask<N extends UseCaseName>(
    name: N,
    request: UseCases[N]['request'],
    options?: AskOptions,
  ): Promise<UseCases[N]['answer']>;
  /** The answer sharpens: onAnswer is called again as the population grows; resolves after the final one. */
  diagnose(
    request: DiagnoseRequest,
    onAnswer: (answer: DiagnoseAnswer, grown: Grown) => void,
    options?: AskOptions,
  ): Promise<void>;
  /** "trace" for files of any size, each with its layout as JSON, streamed from where they lie. */
  trace(files: readonly LoggedFile[], request: TraceRequest, options?: AskOptions): Promise<TraceAnswer>;
}

async function compileCore(): Promise<WebAssembly.Module> {
  const response = await fetch(coreUrl);
  if (!response.ok) throw new Error(`${coreUrl}: ${response.status}`);
  // Streaming needs the MIME type; without it the bytes will do.
  if (response.headers.get('content-type')?.startsWith('application/wasm'))
    return WebAssembly.compileStreaming(response);
  return WebAssembly.compile(await response.arrayBuffer());
}

/** `speech` is read at every ask: the language and units that answers are worded in. */
export function startEngine(speech: () => Speech): Engine {
  return engineOn(new Hands(compileCore, navigator.hardwareConcurrency || 1), speech);
}

let lastGrowing = 0;

/** What the core said, or the Problem it told. */
function read<T>(text: string): T {
  const told = JSON.parse(text) as { ok: T } | { problem: Problem };
  if ('problem' in told) throw new ProblemError(told.problem);
  return told.ok;
}

/** A core that broke down or couldn't be fetched is a problem like any other, in the core's own plain words. */
function asProblem(error: unknown): unknown {
  if (error instanceof ProblemError || (error instanceof DOMException && error.name === 'AbortError'))
    return error;
  if (!(error instanceof Error)) return error;
  const why = error.message;
  return new ProblemError({ field: 'core', given: '', allowed: '', why, text: `core: ${why}` });
}

export function engineOn(hands: Hands, speech: () => Speech): Engine {
  let growing: Promise<unknown> = Promise.resolve();
  return {
    async ask(name, request, options) {
      const job = { kind: 'ask' as const, name, request: JSON.stringify(request), speech: speech() };
      try {
        return read((await hands.ask({ job, ...options }, name === 'diagnose' || name === 'expect')).text);
      } catch (error) {
        throw asProblem(error);
      }
    },
    async trace(files, request, options) {
      const job = {
        kind: 'trace' as const,
        request: JSON.stringify(request),
        speech: speech(),
        files: [...files],
      };
      try {
        return read((await hands.ask({ job, ...options }, true)).text);
      } catch (error) {
        throw asProblem(error);
      }
    },
    diagnose(request, onAnswer, options) {
      // One at a time: the pool holds one diagnosis.
      const mine = growing.then(async () => {
        options?.signal?.throwIfAborted();
        const of = {
          id: ++lastGrowing,
          request: JSON.stringify(request),
          speech: speech(),
          now: Date.now() / 1000,
        };
        const wanted = request.population ?? usualPopulation;
        await grow(hands, of, wanted, (text, grown) => onAnswer(read(text), grown), options ?? {});
      });
      growing = mine.catch(() => {});
      return mine.catch((error: unknown) => {
        throw asProblem(error);
      });
    },
  };
}
