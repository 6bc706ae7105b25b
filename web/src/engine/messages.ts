// What the engine and its workers say to each other. One job at a time in a worker; each is told by its number.
import type { Speech } from './module';

export type Job =
  /** one use case; answered with JSON text */
  { kind: 'ask'; name: string; request: string; speech: Speech };

export type ToWorker =
  /** first of all: the compiled core, and a word to read "stop" from where pages may share memory */
  | { kind: 'open'; module: WebAssembly.Module; stop: SharedArrayBuffer | null }
  | { kind: 'job'; id: number; job: Job };

export type FromWorker =
  | { kind: 'ready' }
  | { kind: 'progress'; id: number; share: number }
  | { kind: 'done'; id: number; text: string }
  /** the core trapped: this worker is of no more use */
  | { kind: 'broke'; id: number; why: string };
