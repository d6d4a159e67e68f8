// SPDX-License-Identifier: Apache-2.0
// A camera's picture made small enough to travel: upright, no side over 1,600 pixels, a JPEG of two megabytes at
// most. What the camera wrote beside the pixels (place, maker) stays behind.

const LONGEST_SIDE = 1600;
export const LARGEST_PHOTO = 2 * 1024 * 1024;
const QUALITIES = [0.85, 0.7, 0.5, 0.3];

/** The size a picture is drawn at: its own, or as much smaller as its longer side is too long. */
export function scaledSize(width: number, height: number): { width: number; height: number } {
  const scale = Math.min(1, LONGEST_SIDE / Math.max(width, height));
  return { width: Math.max(1, Math.round(width * scale)), height: Math.max(1, Math.round(height * scale)) };
}

/** The bytes of the scaled picture; undefined for what the browser cannot read as a picture. */
export async function scaledPicture(file: Blob): Promise<Uint8Array<ArrayBuffer> | undefined> {
  let picture: ImageBitmap;
  try {
    picture = await createImageBitmap(file, { imageOrientation: "from-image" });
  } catch {
    return undefined;
  }
  const canvas = document.createElement("canvas");
  Object.assign(canvas, scaledSize(picture.width, picture.height));
  canvas.getContext("2d")?.drawImage(picture, 0, 0, canvas.width, canvas.height);
  picture.close();
  for (const quality of QUALITIES) {
    const blob = await new Promise<Blob | null>((done) => canvas.toBlob(done, "image/jpeg", quality));
    if (blob === null) return undefined;
    if (blob.size <= LARGEST_PHOTO) return new Uint8Array(await blob.arrayBuffer());
  }
  return undefined;
}
