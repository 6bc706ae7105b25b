// What the engine and its workers say to each other. One job at a time in a worker; each is told by its number.
import type { Speech } from './module';

/** A diagnosis that grows: everyone who works on it starts from exactly this. */
export interface Growing {
  id: number;
  request: string;
  speech: Speech;
  /** the moment it was asked, s */
  now: number;
}

/** A file that a logger wrote; `layout` is JSON as "trace_layout" answers it. */
export interface LoggedFile {
  name: string;
  layout: string;
  file: Blob;
}

export type Job =
  /** one use case; done with JSON text */
  | { kind: 'ask'; name: string; request: string; speech: Speech }
  /** draw machines: done with a share, and with the answer of that share alone if wished */
  | { kind: 'draw'; of: Growing; which: number; population: number; pairs: boolean; answer: boolean }
  /** logged files, read in pieces as they lie on the disk; done with JSON text */
  | { kind: 'trace'; request: string; speech: Speech; files: LoggedFile[] }
  /** add shares to the pool; done with the answer of all that are in it */
  | { kind: 'pool'; of: Growing; shares: ArrayBuffer[] };

export type ToWorker =
  /** first of all: the compiled core, and a word to read "stop" from where pages may share memory */
  | { kind: 'open'; module: WebAssembly.Module; stop: SharedArrayBuffer | null }
  | { kind: 'job'; id: number; job: Job };

/** `text` is {"ok": ...} or {"problem": ...}; empty where nothing was to be told. */
export interface Done {
  text: string;
  share: ArrayBuffer | null;
}

export type FromWorker =
  | { kind: 'ready' }
  | { kind: 'progress'; id: number; share: number }
  | ({ kind: 'done'; id: number } & Done)
  /** the core trapped: this worker is of no more use */
  | { kind: 'broke'; id: number; why: string };
