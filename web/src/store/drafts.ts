// What is being typed, kept synchronously at every keystroke, and once more in a database that a killed browser
// doesn't forget (draft_mirror.ts). An empty text is no draft.
import { effect, signal, type Signal } from '@preact/signals';
import type { DraftMirror, Kept } from './draft_mirror';
import type { SmallStorage } from './write_ahead';

const prefix = 'coldwright.draft.';

export class Drafts {
  private readonly open = new Map<string, Signal<string>>();
  private mirror: DraftMirror | null = null;
  private mirrored: ReadonlyMap<string, Kept> = new Map();
  constructor(private readonly storage: () => SmallStorage | null) {}

  /** From now on every keystroke is kept there as well; what it knows newer than localStorage counts. */
  async mirrorIn(mirror: DraftMirror): Promise<void> {
    this.mirrored = await mirror.all();
    this.mirror = mirror;
  }

  draft(key: string): Signal<string> {
    const known = this.open.get(key);
    if (known) return known;
    const text = signal(this.read(key));
    let first = true;
    effect(() => {
      const value = text.value;
      if (!first) this.write(key, { text: value, at: Date.now() });
      first = false;
    });
    this.open.set(key, text);
    return text;
  }

  private read(key: string): string {
    const here = this.readHere(key);
    const there = this.mirrored.get(key);
    return (there && (!here || there.at > here.at) ? there.text : here?.text) ?? '';
  }

  private readHere(key: string): Kept | null {
    try {
      const found = this.storage()?.getItem(prefix + key);
      if (!found) return null;
      const kept = JSON.parse(found) as Kept;
      return typeof kept.text === 'string' && typeof kept.at === 'number' ? kept : null;
    } catch {
      return null; // refused, or not ours
    }
  }

  private write(key: string, kept: Kept): void {
    this.mirror?.put(key, kept);
    try {
      if (kept.text === '' && !this.mirror) this.storage()?.removeItem(prefix + key);
      else this.storage()?.setItem(prefix + key, JSON.stringify(kept));
    } catch {
      // full or refused: the draft lasts as long as the page, and in the mirror
    }
  }
}
