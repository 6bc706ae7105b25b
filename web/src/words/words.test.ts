// The three languages say the same things with the same placeholders.
import { expect, test } from 'vitest';
import en from './en';
import es from './es';
import fr from './fr';

const slots = (text: string) => [...text.matchAll(/\{(\w+)\}/g)].map((m) => m[1]).sort();

test.each([
  ['es', es],
  ['fr', fr],
])('%s has every text of English, with its placeholders', (_, pack) => {
  expect(Object.keys(pack).sort()).toEqual(Object.keys(en).sort());
  for (const [room, texts] of Object.entries(en)) {
    expect(Object.keys(pack[room] ?? {}).sort(), room).toEqual(Object.keys(texts).sort());
    for (const [key, text] of Object.entries(texts)) {
      const other = pack[room]?.[key] ?? '';
      expect(other.trim(), `${room}.${key}`).not.toBe('');
      expect(slots(other), `${room}.${key}`).toEqual(slots(text));
    }
  }
});
