// Makes a photo small enough to keep: at most 1280 px on its longer side, JPEG, upright as the camera meant it.
import { StoreError } from './port';

export const longestSide = 1280;
const quality = 0.8;

export interface SmallPhoto {
  bytes: ArrayBuffer;
  type: string;
  width: number;
  height: number;
}

export function fitted(width: number, height: number): { width: number; height: number } {
  const scale = Math.min(1, longestSide / Math.max(width, height));
  return { width: Math.max(1, Math.round(width * scale)), height: Math.max(1, Math.round(height * scale)) };
}

export async function shrink(photo: Blob): Promise<SmallPhoto> {
  let image: ImageBitmap;
  try {
    image = await createImageBitmap(photo, { imageOrientation: 'from-image' });
  } catch {
    throw new StoreError('photo_unreadable');
  }
  try {
    const { width, height } = fitted(image.width, image.height);
    const blob = await draw(image, width, height);
    return { bytes: await blob.arrayBuffer(), type: 'image/jpeg', width, height };
  } finally {
    image.close();
  }
}

async function draw(image: ImageBitmap, width: number, height: number): Promise<Blob> {
  if (typeof OffscreenCanvas !== 'undefined') {
    const canvas = new OffscreenCanvas(width, height);
    const context = canvas.getContext('2d');
    if (context) {
      context.drawImage(image, 0, 0, width, height);
      return canvas.convertToBlob({ type: 'image/jpeg', quality });
    }
  }
  const canvas = Object.assign(document.createElement('canvas'), { width, height });
  canvas.getContext('2d')?.drawImage(image, 0, 0, width, height);
  return new Promise((resolve, reject) =>
    canvas.toBlob(
      (blob) => (blob ? resolve(blob) : reject(new StoreError('photo_unreadable'))),
      'image/jpeg',
      quality,
    ),
  );
}
