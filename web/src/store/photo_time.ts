// When a photo was taken: EXIF DateTimeOriginal with its offset where the camera wrote one (tags and layout
// of Exif in JPEG recalled [from-memory]), else the file's own time. Only the few bytes of a JPEG that hold it are looked at; anything odd means "not known".

const dateTimeOriginal = 0x9003;
const offsetTimeOriginal = 0x9011;
const exifIfd = 0x8769;

/** As RFC 3339 without offset when the camera gave none; null when there is no time. */
export function exifTime(bytes: ArrayBuffer): { local: string; offset: string | null } | null {
  try {
    return timeInTiff(app1(new DataView(bytes)));
  } catch {
    return null; // a RangeError: the file points outside itself
  }
}

/** The TIFF block of the Exif segment. */
function app1(view: DataView): DataView | null {
  if (view.getUint16(0) !== 0xffd8) return null;
  for (let at = 2; at + 4 <= view.byteLength;) {
    const marker = view.getUint16(at);
    const length = view.getUint16(at + 2);
    if ((marker & 0xff00) !== 0xff00 || marker === 0xffda || length < 2) return null;
    const exif = marker === 0xffe1 && view.getUint32(at + 4) === 0x45786966 && view.getUint16(at + 8) === 0;
    if (exif) return new DataView(view.buffer, view.byteOffset + at + 10, length - 8);
    at += 2 + length;
  }
  return null;
}

function timeInTiff(tiff: DataView | null): ReturnType<typeof exifTime> {
  if (!tiff) return null;
  const little = tiff.getUint16(0) === 0x4949;
  const find = (ifd: number, tag: number): number | null => {
    const count = tiff.getUint16(ifd, little);
    for (let i = 0; i < count; ++i)
      if (tiff.getUint16(ifd + 2 + 12 * i, little) === tag) return ifd + 2 + 12 * i;
    return null;
  };
  const text = (field: number): string => {
    const length = tiff.getUint32(field + 4, little);
    const at = length <= 4 ? field + 8 : tiff.getUint32(field + 8, little);
    if (length > 64) return '';
    return Array.from({ length }, (_, i) => String.fromCharCode(tiff.getUint8(at + i)))
      .join('')
      .replace(/\0.*$/s, '');
  };
  const pointer = find(tiff.getUint32(4, little), exifIfd);
  if (pointer === null) return null;
  const ifd = tiff.getUint32(pointer + 8, little);
  const taken = find(ifd, dateTimeOriginal);
  const m = taken === null ? null : /^(\d{4}):(\d\d):(\d\d) (\d\d:\d\d:\d\d)$/.exec(text(taken));
  if (!m || Number.isNaN(Date.parse(`${m[1]}-${m[2]}-${m[3]}T${m[4]}Z`))) return null;
  const zone = find(ifd, offsetTimeOriginal);
  const offset = zone === null ? null : text(zone);
  return {
    local: `${m[1]}-${m[2]}-${m[3]}T${m[4]}`,
    offset: offset && /^[+-]\d\d:\d\d$/.test(offset) ? offset : null,
  };
}

/** The original's time with an offset, and where it is from. */
export function takenAt(
  bytes: ArrayBuffer,
  lastModified: number | undefined,
  format: (ms: number) => string,
): { taken: string; taken_from: 'camera' | 'file' } | null {
  const camera = exifTime(bytes);
  if (camera?.offset) return { taken: camera.local + camera.offset, taken_from: 'camera' };
  if (camera) {
    // Without an offset the camera means the time where it was: the phone's own zone is the best we know.
    const zone = /([+-]\d\d:\d\d)$/.exec(format(new Date(camera.local).getTime()))?.[1] ?? '+00:00';
    return { taken: camera.local + zone, taken_from: 'camera' };
  }
  return lastModified ? { taken: format(lastModified), taken_from: 'file' } : null;
}
