// What is being typed, kept synchronously at every keystroke. An empty text is no draft and leaves nothing.
import { effect, signal, type Signal } from '@preact/signals';
import type { SmallStorage } from './write_ahead';

const prefix = 'coldwright.draft.';

export class Drafts {
  private readonly open = new Map<string, Signal<string>>();
  constructor(private readonly storage: () => SmallStorage | null) {}

  draft(key: string): Signal<string> {
    const known = this.open.get(key);
    if (known) return known;
    const text = signal(this.read(key));
    let first = true;
    effect(() => {
      const value = text.value;
      if (!first) this.write(key, value);
      first = false;
    });
    this.open.set(key, text);
    return text;
  }

  private read(key: string): string {
    try {
      return this.storage()?.getItem(prefix + key) ?? '';
    } catch {
      return '';
    }
  }
  private write(key: string, value: string): void {
    try {
      if (value === '') this.storage()?.removeItem(prefix + key);
      else this.storage()?.setItem(prefix + key, value);
    } catch {
      // full or refused: the draft lasts as long as the page
    }
  }
}
