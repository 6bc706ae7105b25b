// For tests: a port in memory that stops, fails or dies on demand at any of its steps. It holds what a database
// would hold: what was committed stays, what was not is gone.
import type { Head, LogRecord, PhotoBytes } from './entry';
import type { Port } from './port';

export interface Disk {
  entries: LogRecord[];
  heads: Map<string, Head>;
  photos: Map<string, PhotoBytes & { call: string }>;
  texts: Map<string, string>;
  ballast: number;
  tail: Promise<unknown>; // transactions of all tabs that overlap run one after the other
}
export const emptyDisk = (): Disk => ({
  entries: [],
  heads: new Map(),
  photos: new Map(),
  texts: new Map(),
  ballast: 0,
  tail: Promise.resolve(),
});

/** What happens at a step: an error to throw, 'kill' to never come back, or nothing. */
export type Fault = (step: string) => Error | 'kill' | null;

export class FaultyPort implements Port {
  fault: Fault = () => null;
  dead = false;
  constructor(readonly disk: Disk) {}

  private async step(name: string): Promise<void> {
    const fault = this.dead ? 'kill' : this.fault(name);
    if (fault === 'kill') {
      this.dead = true;
      this.onKill();
      await new Promise(() => {});
    }
    if (fault instanceof Error) throw fault;
    await Promise.resolve();
  }

  private locked<T>(work: () => Promise<T>): Promise<T> {
    if (this.dead) return new Promise(() => {});
    const turn = this.disk.tail.then(work);
    // A tab killed inside a transaction gives the database free.
    const killed = new Promise<void>((resolve) => (this.onKill = resolve));
    this.disk.tail = Promise.race([turn, killed]).catch(() => {});
    return turn;
  }
  private onKill = () => {};

  append: Port['append'] = (call, after, decide) =>
    this.locked(async () => {
      await this.step('begin');
      const fresh = this.disk.entries.filter((r) => r.call === call && r.seq > after);
      const { records, photos, head } = decide(fresh);
      if (records.length === 0 && !photos?.length) return fresh;
      let seq = fresh.at(-1)?.seq ?? after;
      const written = structuredClone(records).map((record) => ({ ...record, call, seq: ++seq }));
      const row = head([...fresh, ...written]);
      await this.step('write');
      const taken = (id: string) => this.disk.entries.some((r) => r.call === call && r.entry.id === id);
      const clash = written.some(
        (r) => taken(r.entry.id) || this.disk.entries.some((o) => o.call === call && o.seq === r.seq),
      );
      if (clash) throw new DOMException('', 'ConstraintError');
      this.disk.entries.push(...written);
      this.disk.heads.set(call, row);
      for (const photo of photos ?? []) this.disk.photos.set(`${call} ${photo.blob}`, { ...photo, call });
      await this.step('committed');
      return [...fresh, ...written];
    });

  since: Port['since'] = async (call, after) => {
    await this.step('since');
    return structuredClone(this.disk.entries.filter((r) => r.call === call && r.seq > after));
  };
  heads: Port['heads'] = async () => {
    await this.step('heads');
    return [...this.disk.heads.values()];
  };
  photo: Port['photo'] = async (call, blob) => this.disk.photos.get(`${call} ${blob}`) ?? null;
  purge: Port['purge'] = async (call) => {
    await this.step('purge');
    this.disk.entries = this.disk.entries.filter((r) => r.call !== call);
    for (const [key, photo] of this.disk.photos) if (photo.call === call) this.disk.photos.delete(key);
    this.disk.heads.delete(call);
  };
  text: Port['text'] = async (name) => {
    await this.step('text');
    return this.disk.texts.get(name) ?? null;
  };
  swapText: Port['swapText'] = (name, before, next) =>
    this.locked(async () => {
      await this.step('begin');
      if ((this.disk.texts.get(name) ?? null) !== before) return false;
      if (next === null) this.disk.texts.delete(name);
      else this.disk.texts.set(name, next);
      await this.step('committed');
      return true;
    });
  keepBallast: Port['keepBallast'] = async (bytes) => {
    await this.step('ballast');
    this.disk.ballast ||= bytes;
  };
  giveUpBallast: Port['giveUpBallast'] = async () => {
    await this.step('ballast');
    const had = this.disk.ballast > 0;
    this.disk.ballast = 0;
    return had;
  };
  close(): void {}
}
