// The workers: how many there are, who does which job next, and what happens when one breaks or its job is no
// longer wanted. The first of them pools what the others draw and never draws itself, so that a question never
// waits behind a drawing.
import { Broken } from './module';
import type { Done, FromWorker, Job, ToWorker } from './messages';

export interface Wanted {
  job: Job;
  signal?: AbortSignal | undefined;
  onProgress?: ((share: number) => void) | undefined;
}

interface Waiting extends Wanted {
  id: number;
  done(done: Done): void;
  failed(error: unknown): void;
}

/** How long a worker may go on with a job that nobody wants before it is replaced. */
const patience = 250; // ms

class Hand {
  readonly worker: Worker;
  readonly stop = globalThis.crossOriginIsolated ? new SharedArrayBuffer(4) : null;
  job: Waiting | null = null;
  ready = false;
  /** aborted, but still being worked on */
  unwanted: ReturnType<typeof setTimeout> | null = null;

  constructor(
    module: WebAssembly.Module,
    readonly pools: boolean,
    private readonly hands: Hands,
  ) {
    this.worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module', name: 'core' });
    this.worker.onmessage = ({ data }: MessageEvent<FromWorker>) => this.hear(data);
    this.worker.onerror = (event) => this.hands.replace(this, event.message || 'it would not start');
    this.tell({ kind: 'open', module, stop: this.stop });
  }

  tell(message: ToWorker) {
    this.worker.postMessage(message);
  }

  give(waiting: Waiting) {
    this.job = waiting;
    this.tell({ kind: 'job', id: waiting.id, job: waiting.job });
  }

  /** Its job is no longer wanted. */
  drop() {
    const id = this.job!.id;
    if (this.stop) Atomics.store(new Int32Array(this.stop), 0, id);
    this.unwanted = setTimeout(() => this.hands.replace(this, 'superseded'), patience);
  }

  private hear(said: FromWorker) {
    const job = this.job;
    if (said.kind === 'ready') this.ready = true;
    if (said.kind === 'ready' || !job || said.id !== job.id) return;
    if (said.kind === 'progress') {
      if (!job.signal?.aborted) job.onProgress?.(said.share);
      return;
    }
    if (said.kind === 'broke') return this.hands.replace(this, said.why);
    if (this.unwanted !== null) clearTimeout(this.unwanted);
    this.unwanted = null;
    this.job = null;
    job.done(said);
    this.hands.next();
  }
}

export class Hands {
  private readonly all: Hand[] = [];
  private readonly pools: Waiting[] = [];
  private readonly asks: Waiting[] = [];
  private readonly draws: Waiting[] = [];
  private readonly size: number;
  private module: Promise<WebAssembly.Module> | null = null;
  private compiled: WebAssembly.Module | null = null;
  private lastId = 0;
  private owed = 0;

  constructor(
    private readonly compile: () => Promise<WebAssembly.Module>,
    cores: number,
  ) {
    this.size = 1 + Math.min(Math.max(cores, 1), 8);
    void this.open().catch(() => {}); // whoever asks hears of it
  }

  /** How many can draw at once. */
  get drawers(): number {
    return this.size - 1;
  }

  /** A question; one that takes long goes to those who draw, before their next drawing. */
  ask(wanted: Wanted, long: boolean): Promise<Done> {
    return this.want(wanted, long ? this.draws : this.asks, long);
  }

  draw(wanted: Wanted): Promise<Done> {
    return this.want(wanted, this.draws, false);
  }

  pool(wanted: Wanted): Promise<Done> {
    return this.want(wanted, this.pools, false);
  }

  /** How many answers are owed stands at the page's root, for whoever waits until a screen has come to rest. */
  private owe(more: number) {
    this.owed += more;
    document.documentElement.dataset['owed'] = String(this.owed);
  }

  private async want(wanted: Wanted, queue: Waiting[], first: boolean): Promise<Done> {
    this.owe(1);
    try {
      return await this.queued(wanted, queue, first);
    } finally {
      this.owe(-1);
    }
  }

  private async queued(wanted: Wanted, queue: Waiting[], first: boolean): Promise<Done> {
    wanted.signal?.throwIfAborted();
    await this.open();
    wanted.signal?.throwIfAborted();
    return new Promise((done, failed) => {
      const waiting: Waiting = { ...wanted, id: ++this.lastId, done, failed };
      wanted.signal?.addEventListener(
        'abort',
        () => {
          failed(wanted.signal!.reason);
          const at = queue.indexOf(waiting);
          if (at >= 0) queue.splice(at, 1);
          this.all.find((hand) => hand.job === waiting)?.drop();
        },
        { once: true },
      );
      if (first) queue.unshift(waiting);
      else queue.push(waiting);
      if (this.all.length === 0) this.fill();
      this.next();
    });
  }

  /** Gives waiting jobs to free hands. */
  next() {
    for (const hand of this.all) {
      if (hand.job) continue;
      const job = hand.pools
        ? (this.pools.shift() ?? this.asks.shift())
        : (this.asks.shift() ?? this.draws.shift());
      if (job) hand.give(job);
    }
  }

  /** A hand that broke, or that nobody waits for, makes room for a new one. */
  replace(broken: Hand, why: string) {
    broken.worker.terminate();
    if (broken.unwanted !== null) clearTimeout(broken.unwanted);
    broken.job?.failed(new Broken(why));
    const at = this.all.indexOf(broken);
    if (at < 0) return;
    this.all.splice(at, 1);
    if (broken.ready) {
      this.fill();
      this.next();
    } else if (this.all.length === 0) {
      // Where workers don't even start, another wouldn't either: tried again with the next question.
      for (const queue of [this.pools, this.asks, this.draws])
        for (const waiting of queue.splice(0)) waiting.failed(new Broken(why));
    }
  }

  private async open(): Promise<void> {
    this.module ??= this.compile();
    try {
      this.compiled = await this.module;
    } catch (error) {
      this.module = null; // tried again with the next question
      throw error;
    }
    this.fill();
  }

  private fill() {
    while (this.compiled && this.all.length < this.size) {
      const pools = !this.all.some((hand) => hand.pools);
      const hand = new Hand(this.compiled, pools, this);
      if (pools) this.all.unshift(hand);
      else this.all.push(hand);
    }
  }
}
