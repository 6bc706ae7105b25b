// The time a photo was taken, from bytes made here by the published layout of Exif in JPEG.
import { expect, test } from 'vitest';
import { exifTime, takenAt } from './photo_time';
import { fitted } from './photos';

/** A JPEG's first bytes with an Exif block: IFD0 with the pointer, the Exif IFD with the given texts. */
function jpeg(texts: Record<number, string>, little: boolean): ArrayBuffer {
  const tags = Object.entries(texts).map(([tag, text]) => [Number(tag), `${text}\0`] as const);
  const exif = 26;
  const data = exif + 2 + 12 * tags.length + 4;
  const tiff = new DataView(new ArrayBuffer(data + tags.reduce((n, [, t]) => n + t.length, 0)));
  tiff.setUint16(0, little ? 0x4949 : 0x4d4d);
  tiff.setUint16(2, 42, little);
  tiff.setUint32(4, 8, little);
  tiff.setUint16(8, 1, little);
  const field = (at: number, tag: number, type: number, count: number, value: number) => {
    tiff.setUint16(at, tag, little);
    tiff.setUint16(at + 2, type, little);
    tiff.setUint32(at + 4, count, little);
    tiff.setUint32(at + 8, value, little);
  };
  field(10, 0x8769, 4, 1, exif);
  tiff.setUint16(exif, tags.length, little);
  let end = data;
  tags.forEach(([tag, text], i) => {
    field(exif + 2 + 12 * i, tag, 2, text.length, end);
    for (const c of text) tiff.setUint8(end++, c.charCodeAt(0));
  });
  const body = new Uint8Array(tiff.buffer);
  const length = body.length + 8;
  const app0 = [0xff, 0xe0, 0, 4, 0, 0];
  const head = [0xff, 0xd8, ...app0, 0xff, 0xe1, length >> 8, length & 255, 0x45, 0x78, 0x69, 0x66, 0, 0];
  return new Uint8Array([...head, ...body, 0xff, 0xda]).buffer;
}
const format = (ms: number) => `${new Date(ms).toISOString().slice(0, 19)}+02:00`;

test.each([true, false])('is read from Exif, little-endian %s', (little) => {
  const bytes = jpeg({ 0x9003: '2026:05:31 17:04:09', 0x9011: '+01:00' }, little);
  expect(exifTime(bytes)).toEqual({ local: '2026-05-31T17:04:09', offset: '+01:00' });
  expect(takenAt(bytes, 5, format)).toEqual({ taken: '2026-05-31T17:04:09+01:00', taken_from: 'camera' });
});

test('without an offset the phone lends its own; without Exif the file lends its time', () => {
  const bytes = jpeg({ 0x9003: '2026:05:31 17:04:09' }, true);
  expect(takenAt(bytes, 5, format)).toEqual({ taken: '2026-05-31T17:04:09+02:00', taken_from: 'camera' });
  const none = new Uint8Array([0x89, 0x50]).buffer;
  expect(takenAt(none, Date.UTC(2026, 0, 2), format)).toEqual({
    taken: '2026-01-02T00:00:00+02:00',
    taken_from: 'file',
  });
  expect(takenAt(none, undefined, format)).toBeNull();
});

test('odd bytes mean not known, never an error', () => {
  for (const time of ['    :  :     :  :  ', '0000:00:00 00:00:00', '2026-05-31 17:04:09'])
    expect(exifTime(jpeg({ 0x9003: time }, true))).toBeNull();
  const whole = new Uint8Array(jpeg({ 0x9003: '2026:05:31 17:04:09' }, false));
  for (let cut = 0; cut < whole.length - 4; ++cut) exifTime(whole.slice(0, cut).buffer);
  for (let i = 0; i < whole.length; ++i) exifTime(whole.map((b, at) => (at === i ? 255 : b)).buffer);
  expect(exifTime(whole.buffer)).not.toBeNull();
});

test('fits the longer side, never enlarges, never vanishes', () => {
  expect(fitted(4000, 3000)).toEqual({ width: 1280, height: 960 });
  expect(fitted(3000, 4000)).toEqual({ width: 960, height: 1280 });
  expect(fitted(640, 480)).toEqual({ width: 640, height: 480 });
  expect(fitted(10_000, 1)).toEqual({ width: 1280, height: 1 });
});
