// Brings batches into the log, in order, one transaction each, until they are durable. What can't be written
// now stays in memory and in the write-ahead area and is tried again: later, and when the person comes back.
import { signal, type ReadonlySignal } from '@preact/signals';
import type { Batch } from './entry';
import { troubleOf, type TroubleKind } from './port';
import type { WriteAhead } from './write_ahead';

const firstRetryMs = 1000;
const lastRetryMs = 30_000;

interface Waiting {
  batch: Batch;
  settle: () => void;
}

export class Journal {
  private readonly waiting = signal<readonly Waiting[]>([]);
  private readonly kind = signal<TroubleKind | null>(null);
  private running: Promise<void> | null = null;
  private retry: ReturnType<typeof setTimeout> | undefined;
  private delay = firstRetryMs;
  private closed = false;

  constructor(
    private readonly ahead: WriteAhead,
    private readonly commit: (batch: Batch) => Promise<void>,
    private readonly makeRoom: () => Promise<boolean>,
  ) {}

  get trouble(): ReadonlySignal<TroubleKind | null> {
    return this.kind;
  }
  /** Reading it follows it: what is not yet durable, of one call or of all. */
  pending(call?: string): Batch[] {
    return this.waiting.value
      .map((w) => w.batch)
      .filter((batch) => call === undefined || batch.call === call);
  }

  /** Kept synchronously; resolves once durable, or once known to be held only (then `trouble` says so). */
  submit(batch: Batch): Promise<void> {
    this.ahead.keep(batch);
    return this.take(batch);
  }
  /** What a page before this one left. */
  recover(): Promise<void> {
    return Promise.all(this.ahead.left().map((batch) => this.take(batch))).then(() => {});
  }
  /** Tries at once what is waiting. */
  async again(): Promise<void> {
    if (!this.running && (this.closed || this.waiting.peek().length === 0)) return;
    clearTimeout(this.retry);
    await (this.running ??= this.run());
  }
  close(): void {
    this.closed = true;
    clearTimeout(this.retry);
  }

  private take(batch: Batch): Promise<void> {
    const settled = new Promise<void>((settle) => {
      this.waiting.value = [...this.waiting.peek(), { batch, settle }];
    });
    void this.again();
    return settled;
  }

  /** Gives `running` free in the same turn in which it finds nothing more to do, so that no batch falls between. */
  private async run(): Promise<void> {
    try {
      await this.work();
    } finally {
      this.running = null;
    }
  }

  private async work(): Promise<void> {
    for (let next = this.waiting.peek()[0]; next && !this.closed; next = this.waiting.peek()[0]) {
      try {
        await this.commit(next.batch);
      } catch (error) {
        const kind = troubleOf(error);
        if (kind === 'quota' && (await this.makeRoom().catch(() => false))) continue;
        this.hold(kind);
        return;
      }
      this.ahead.clear(next.batch.key);
      this.waiting.value = this.waiting.peek().filter((w) => w !== next);
      next.settle();
      this.delay = firstRetryMs;
      this.kind.value = null;
    }
  }

  private hold(kind: TroubleKind): void {
    this.kind.value = kind;
    for (const { settle } of this.waiting.peek()) settle();
    if (this.closed) return;
    this.retry = setTimeout(() => void this.again(), this.delay);
    this.delay = Math.min(this.delay * 2, lastRetryMs);
  }
}
