/**
 * Reads tags in the shop: small pictures of the camera go there one at a time, for browsers that
 * find no QR code themselves.
 */

import { ask, stranger, trusted } from './http.js';

const SIDE = 480;
const QUALITY = 0.7;

/** The middle of what the camera sees, as a small JPEG. */
function middleOf(video) {
  const { videoWidth: width, videoHeight: height } = video;
  const side = Math.min(width, height);
  const canvas = document.createElement('canvas');
  canvas.width = canvas.height = Math.min(side, SIDE);
  canvas.getContext('2d').drawImage(
    video,
    (width - side) / 2,
    (height - side) / 2,
    side,
    side,
    0,
    0,
    canvas.width,
    canvas.height,
  );
  return new Promise((done) => canvas.toBlob(done, 'image/jpeg', QUALITY));
}

/** Answers as a browser's own detector does; rejects with Trouble where no shop answers. */
export class ShopReader {
  #store;

  /** How long to rest after each picture, as other phones want the network too. */
  restMs = 400;

  /** A reader for the store's phone. */
  constructor(store) {
    this.#store = store;
  }

  /** The code in what a video shows, as a list of one `{rawValue}` or none. */
  async detect(video) {
    const facts = await this.#store.facts();
    const picture = await middleOf(video);
    const reply = trusted(
      await ask('/log/read_tag', { picture, credential: facts.credential }),
      facts,
    );
    if (reply.text !== null && typeof reply.text !== 'string') throw stranger();
    return reply.text ? [{ rawValue: reply.text }] : [];
  }
}
