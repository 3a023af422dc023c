/** A picture from the camera made small enough to be sent, with nothing in it but the picture. */

import { photo_bounds as bounds } from '../../reckon.js';

const QUALITIES = [0.82, 0.6, 0.4];

/** The picture cannot be used; `says` is a sentence for the person. */
export class NoPicture extends Error {
  constructor(says, cause = null) {
    super(says, { cause });
    this.name = 'NoPicture';
    this.says = says;
  }
}

/**
 * The file as {bytes, width, height}: a JPEG within the bounds, without the camera's notes.
 */
export async function shrink(file) {
  const canvas = await draw(file);
  for (const quality of QUALITIES) {
    const blob = await new Promise((resolve) => canvas.toBlob(resolve, 'image/jpeg', quality));
    const bytes = blob && withoutNotes(new Uint8Array(await blob.arrayBuffer()));
    if (bytes && bytes.length <= bounds.MOST_BYTES) {
      return { bytes, width: canvas.width, height: canvas.height };
    }
  }
  throw new NoPicture(
    'This picture is too large to send. Take it again from closer up.',
  );
}

async function draw(file) {
  const picture = await decode(file);
  const scale = Math.min(1, bounds.MOST_PIXELS / Math.max(picture.width, picture.height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(1, Math.round(picture.width * scale));
  canvas.height = Math.max(1, Math.round(picture.height * scale));
  const paper = canvas.getContext('2d');
  // What is see-through in the file would come out black.
  paper.fillStyle = '#ffffff';
  paper.fillRect(0, 0, canvas.width, canvas.height);
  paper.drawImage(picture, 0, 0, canvas.width, canvas.height);
  picture.close();
  return canvas;
}

async function decode(file) {
  try {
    // The camera's note of how the phone was held is followed here, as it does not go along.
    return await createImageBitmap(file, { imageOrientation: 'from-image' });
  } catch (error) {
    throw new NoPicture(
      'The app cannot read this picture. Take it with the camera, or choose ' +
        'another one.',
      error,
    );
  }
}

/**
 * A JPEG without its application segments (EXIF and the like, ITU-T T.81 B.2.4.6) and comments,
 * some of which browsers write themselves.
 */
export function withoutNotes(bytes) {
  const kept = [bytes.subarray(0, 2)];
  let at = 2;
  while (bytes[at] === 0xff && bytes[at + 1] !== 0xda) {
    const marker = bytes[at + 1];
    const end = at + 2 + bytes[at + 2] * 256 + bytes[at + 3];
    const isNote = (marker >= 0xe1 && marker <= 0xef) || marker === 0xfe;
    if (!isNote) kept.push(bytes.subarray(at, end));
    at = end;
  }
  kept.push(bytes.subarray(at));
  const whole = new Uint8Array(kept.reduce((size, part) => size + part.length, 0));
  kept.reduce((place, part) => {
    whole.set(part, place);
    return place + part.length;
  }, 0);
  return whole;
}
