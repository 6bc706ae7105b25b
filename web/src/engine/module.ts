// One instance of the core (apps/wasm/exports.cpp is the other side): text in, text out, and the few WASI
// functions that the standard library asks for.

/** The language and the units that answers are worded in. */
export interface Speech {
  language: string;
  units: 'us' | 'metric';
}

interface Exports {
  memory: WebAssembly.Memory;
  _initialize(): void;
  room(size: number): number;
  answer_at(): number;
  ask(nameSize: number, languageSize: number, unitsSize: number, now: number): number;
  grow_start(languageSize: number, unitsSize: number, now: number): number;
  grow_round(which: number, population: number, withPairs: number): number;
  grow_take(): number;
  grow_answer(): number;
  trace_start(languageSize: number, unitsSize: number, now: number): number;
  trace_open(nameSize: number): number;
  trace_feed(): number;
  trace_answer(): number;
}

/** Thrown where the core ended itself or its memory: the instance is of no more use. */
export class Broken extends Error {}

export class Core {
  private readonly calls: Exports;
  private readonly encoder = new TextEncoder();
  private readonly decoder = new TextDecoder();

  /** `goOn` hears how far it is, 0 to 1, and says whether to go on. */
  constructor(module: WebAssembly.Module, goOn: (share: number) => boolean) {
    const instance = new WebAssembly.Instance(module, {
      host: { progress: (share: number) => (goOn(share) ? 1 : 0) },
      wasi_snapshot_preview1: wasi(() => this.calls.memory),
    });
    this.calls = instance.exports as unknown as Exports;
    this.calls._initialize();
  }

  /** The answer's JSON text: {"ok": ...} or {"problem": ...}. */
  ask(name: string, request: string, speech: Speech): string {
    const [nameSize, languageSize, unitsSize] = this.put(name, speech.language, speech.units, request);
    return this.text(this.calls.ask(nameSize!, languageSize!, unitsSize!, Date.now() / 1000));
  }

  /** Begins a diagnosis that grows, in place of the one before: {"ok": machines wanted} or {"problem": ...}. */
  start(request: string, speech: Speech, now: number): string {
    const [languageSize, unitsSize] = this.put(speech.language, speech.units, request);
    return this.text(this.calls.grow_start(languageSize!, unitsSize!, now));
  }

  /** Draws machines: a share for take(), here or in another instance. Empty when it was told to stop. */
  draw(which: number, population: number, pairs: boolean): Uint8Array<ArrayBuffer> {
    return this.bytes(this.calls.grow_round(which, population, pairs ? 1 : 0)).slice();
  }

  /** Adds a share to the pool; false when it is none of this diagnosis. */
  take(share: Uint8Array<ArrayBuffer>): boolean {
    this.put(share);
    return this.calls.grow_take() === 1;
  }

  /** The answer of the pool. */
  answer(): string {
    return this.text(this.calls.grow_answer());
  }

  /** Begins a trace in place of the one before: {"ok": true} or {"problem": ...}, as each of these. */
  traceStart(request: string, speech: Speech): string {
    const [languageSize, unitsSize] = this.put(speech.language, speech.units, request);
    return this.text(this.calls.trace_start(languageSize!, unitsSize!, Date.now() / 1000));
  }

  /** The next file of the trace. */
  traceOpen(name: string, layout: string): string {
    const [nameSize] = this.put(name, layout);
    return this.text(this.calls.trace_open(nameSize!));
  }

  traceFeed(bytes: Uint8Array<ArrayBuffer>): string {
    this.put(bytes);
    return this.text(this.calls.trace_feed());
  }

  /** The answer of the trace, which is over then. */
  traceAnswer(): string {
    return this.text(this.calls.trace_answer());
  }

  private put(...given: (string | Uint8Array<ArrayBuffer>)[]): number[] {
    const parts = given.map((part) => (typeof part === 'string' ? this.encoder.encode(part) : part));
    let at = this.calls.room(parts.reduce((sum, part) => sum + part.length, 0));
    const bytes = new Uint8Array(this.calls.memory.buffer); // after room(), which may have moved it
    for (const part of parts) {
      bytes.set(part, at);
      at += part.length;
    }
    return parts.map((part) => part.length);
  }

  private bytes(size: number): Uint8Array<ArrayBuffer> {
    return new Uint8Array(this.calls.memory.buffer as ArrayBuffer, this.calls.answer_at(), size);
  }

  private text(size: number): string {
    return this.decoder.decode(this.bytes(size));
  }
}

// The core reads and writes no file; only the standard library's own last words (an assertion) come here.
function wasi(memory: () => WebAssembly.Memory): WebAssembly.ModuleImports {
  const badDescriptor = 8;
  return {
    fd_close: () => badDescriptor,
    fd_seek: () => badDescriptor,
    fd_fdstat_get: () => badDescriptor,
    fd_read: () => badDescriptor,
    fd_write: (_fd: number, list: number, count: number, written: number) => {
      const view = new DataView(memory().buffer);
      let sum = 0;
      let said = '';
      for (let i = 0; i < count; ++i) {
        const from = view.getUint32(list + 8 * i, true);
        const size = view.getUint32(list + 8 * i + 4, true);
        said += new TextDecoder().decode(new Uint8Array(memory().buffer, from, size));
        sum += size;
      }
      view.setUint32(written, sum, true);
      if (said) console.error('coldwright core: ' + said);
      return 0;
    },
    environ_get: () => 0,
    environ_sizes_get: (count: number, size: number) => {
      const view = new DataView(memory().buffer);
      view.setUint32(count, 0, true);
      view.setUint32(size, 0, true);
      return 0;
    },
    proc_exit: (status: number) => {
      throw new Broken(`the core ended itself with ${status}`);
    },
  };
}
