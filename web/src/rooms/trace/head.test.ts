import { expect, test } from 'vitest';
import { encodingOf, headText } from './head';

const utf16 = (text: string, big: boolean) =>
  Uint8Array.from([...text].flatMap((c) => (big ? [0, c.charCodeAt(0)] : [c.charCodeAt(0), 0])));
const latin = (text: string) => Uint8Array.from([...text].map((c) => c.charCodeAt(0)));

test('how letters are written', () => {
  expect(encodingOf(new TextEncoder().encode('Zeit;°C'))).toBe('utf8');
  expect(encodingOf(new TextEncoder().encode('Zeit;°C').slice(0, 6))).toBe('utf8'); // cut within a letter
  expect(encodingOf(latin('Z;°C;Z;W'))).toBe('latin1');
  expect(encodingOf(Uint8Array.from([0xff, 0xfe, 0x41, 0]))).toBe('utf16_le');
  expect(encodingOf(utf16('time;power', true))).toBe('utf16_be');
  expect(encodingOf(utf16('time;power', false))).toBe('utf16_le');
});

test('at the thresholds of the core’s rule', () => {
  // More than a third of the first 2000 bytes zeros at places of one kind: 666 of them are no more than a third.
  const sparse = (zeros: number, first: number) => {
    const bytes = new Uint8Array(3000).fill(0x41);
    for (let i = 0; i < zeros; ++i) bytes[2 * i + first] = 0;
    return bytes;
  };
  expect(encodingOf(sparse(666, 1))).toBe('utf8');
  expect(encodingOf(sparse(667, 1))).toBe('utf16_le');
  expect(encodingOf(sparse(667, 0))).toBe('utf16_be');
  const late = new Uint8Array(3000).fill(0x41);
  for (let i = 2000; i < 3000; i += 2) late[i + 1] = 0;
  expect(encodingOf(late), 'beyond them nothing counts').toBe('utf8');
  // A byte that begins nothing counts unless one of the last four is it.
  const broken = (from: number) => {
    const bytes = new Uint8Array(100).fill(0x41);
    bytes[from] = 0xb0;
    return bytes;
  };
  expect([95, 96, 99].map((i) => encodingOf(broken(i)))).toEqual(['latin1', 'utf8', 'utf8']);
});

test('the text of each', () => {
  expect(headText(utf16('time;W', true))).toEqual({ text: 'time;W', encoding: 'utf16_be' });
  expect(headText(latin(';°C;W;h;°')).text).toBe(';°C;W;h;°');
  expect(headText(new Uint8Array(0)).text).toBe('');
});
