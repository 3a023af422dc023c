/** The photos of a job, as far as this phone holds them. */

import { fold, terms } from '../../reckon.js';
import { h } from '../../dom.js';

/** What a photo is of, in words. */
export function photoWords({ of, text }) {
  const shown = terms.PHOTO_WORDS[of] ?? of;
  return text ? `${shown}: ${text}` : shown;
}

function where(photo, entry) {
  if (!photo) return entry.kept_no ? 'at the shop' : 'taken on another phone';
  return {
    kept: 'on this phone only',
    stored: 'at the shop',
    needs_you: `not accepted: ${photo.reason}`,
  }[photo.state];
}

function image(bytes, body) {
  const address = URL.createObjectURL(new Blob([bytes], { type: 'image/jpeg' }));
  const free = () => URL.revokeObjectURL(address);
  return h('img', {
    src: address,
    alt: photoWords(body),
    width: body.width,
    height: body.height,
    onload: free,
    onerror: free,
  });
}

async function figure(app, entry) {
  const photo = await app.store.photos.photo(entry.body.sha256);
  return h(
    'figure',
    { class: 'photo' },
    photo && image(photo.bytes, entry.body),
    h('figcaption', {}, photoWords(entry.body), h('small', { class: 'soft' }, where(photo, entry))),
  );
}

/** The job's standing photos, newest first; null when there are none. */
export async function photoGallery(app, job) {
  const taken = fold.of_kind(fold.standing(job.entries), 'photo').reverse();
  if (!taken.length) return null;
  return h('div', { class: 'photos' }, await Promise.all(taken.map((entry) => figure(app, entry))));
}
