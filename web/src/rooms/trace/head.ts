// A logged file's first bytes as text, for the guess of its layout.
import type { TraceLayout } from '../../engine/use_cases';

/** As many bytes of a file the core looks at (core/traces/guess.hpp). */
export const headBytes = 1 << 18;

export type Encoding = NonNullable<TraceLayout['encoding']>;

const decodes = (bytes: Uint8Array): boolean => {
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    return true;
  } catch {
    return false;
  }
};

/** UTF-16 by its mark or by the zeros between letters, else UTF-8, else one byte a letter: by the rule of the core's
    guess_encoding (core/traces/decode.cpp), to the byte, as the core reads by what is told here. */
export function encodingOf(bytes: Uint8Array): Encoding {
  const [a, b] = bytes;
  if (a === 0xff && b === 0xfe) return 'utf16_le';
  if (a === 0xfe && b === 0xff) return 'utf16_be';
  const start = bytes.subarray(0, 2000);
  const zeros = [0, 0]; // at even and at odd places
  start.forEach((byte, i) => (zeros[i % 2]! += Number(byte === 0)));
  const third = Math.floor(start.length / 3);
  if (zeros[1]! > third) return 'utf16_le';
  if (zeros[0]! > third) return 'utf16_be';
  // What is wrong in the last four bytes may be a letter that the head cuts: all that begins before them must be right,
  // and the last of it ends up to three bytes within them.
  const whole = [4, 3, 2, 1].some((less) => decodes(bytes.subarray(0, Math.max(0, bytes.length - less))));
  return whole ? 'utf8' : 'latin1';
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
