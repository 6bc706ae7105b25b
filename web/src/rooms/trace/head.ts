// A logged file's first bytes as text, for the guess of its layout.
import type { TraceLayout } from '../../engine/use_cases';

/** As many bytes of a file the core looks at (core/traces/guess.hpp). */
export const headBytes = 1 << 18;

export type Encoding = NonNullable<TraceLayout['encoding']>;

/** UTF-16 by its mark or by the zeros between letters, else UTF-8, else one byte a letter, as the core tells them. */
export function encodingOf(bytes: Uint8Array): Encoding {
  const [a, b] = bytes;
  if (a === 0xff && b === 0xfe) return 'utf16_le';
  if (a === 0xfe && b === 0xff) return 'utf16_be';
  const looked = Math.min(bytes.length, 1000) & ~1;
  let even = 0;
  let odd = 0;
  for (let i = 0; i < looked; i += 2) {
    even += Number(bytes[i] === 0);
    odd += Number(bytes[i + 1] === 0);
  }
  if (odd * 4 > looked && even === 0) return 'utf16_le';
  if (even * 4 > looked && odd === 0) return 'utf16_be';
  try {
    // The head may end within a letter.
    new TextDecoder('utf-8', { fatal: true }).decode(bytes, { stream: true });
    return 'utf8';
  } catch {
    return 'latin1';
  }
}

const names: Record<Encoding, string> = {
  utf8: 'utf-8',
  utf16_le: 'utf-16le',
  utf16_be: 'utf-16be',
  latin1: 'latin1',
};

export function headText(bytes: Uint8Array): { text: string; encoding: Encoding } {
  const encoding = encodingOf(bytes);
  return { encoding, text: new TextDecoder(names[encoding]).decode(bytes, { stream: true }) };
}
