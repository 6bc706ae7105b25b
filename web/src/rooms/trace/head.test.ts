import { expect, test } from 'vitest';
import { encodingOf, headText } from './head';

const utf16 = (text: string, big: boolean) =>
  Uint8Array.from([...text].flatMap((c) => (big ? [0, c.charCodeAt(0)] : [c.charCodeAt(0), 0])));

test('how letters are written', () => {
  expect(encodingOf(new TextEncoder().encode('Zeit;°C'))).toBe('utf8');
  expect(encodingOf(new TextEncoder().encode('Zeit;°C').slice(0, 6))).toBe('utf8'); // cut within a letter
  expect(encodingOf(Uint8Array.from([0x5a, 0x3b, 0xb0, 0x43, 0x3b]))).toBe('latin1');
  expect(encodingOf(Uint8Array.from([0xff, 0xfe, 0x41, 0]))).toBe('utf16_le');
  expect(encodingOf(utf16('time;power', true))).toBe('utf16_be');
  expect(encodingOf(utf16('time;power', false))).toBe('utf16_le');
});

test('the text of each', () => {
  expect(headText(utf16('time;W', true))).toEqual({ text: 'time;W', encoding: 'utf16_be' });
  expect(headText(Uint8Array.from([0x3b, 0xb0, 0x43])).text).toBe(';°C');
  expect(headText(new Uint8Array(0)).text).toBe('');
});
