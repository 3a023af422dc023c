/** The photos of a job; those that this phone does not hold come once the shop is in reach. */

import { entry_words as entryWords, fold } from '../../reckon.js';
import { h } from '../../dom.js';

function where(photo, entry) {
  if (!photo) return entry.kept_no ? 'at the shop' : 'not on this phone yet';
  return {
    kept: 'on this phone only',
    stored: 'at the shop',
    fetched: 'at the shop',
    needs_you: `not accepted: ${photo.reason}`,
  }[photo.state];
}

function caption({ body }) {
  const subject = entryWords.photo_subject(body);
  return body.text ? `${subject}: ${body.text}` : subject;
}

function image(bytes, entry) {
  const address = URL.createObjectURL(new Blob([bytes], { type: 'image/jpeg' }));
  const free = () => URL.revokeObjectURL(address);
  return h('img', {
    src: address,
    alt: caption(entry),
    width: entry.body.width,
    height: entry.body.height,
    onload: free,
    onerror: free,
  });
}

async function figure(app, entry) {
  const photo = await app.store.photos.photo(entry.body.sha256);
  return h(
    'figure',
    { class: 'photo' },
    photo && image(photo.bytes, entry),
    h('figcaption', {}, caption(entry), h('small', { class: 'soft' }, where(photo, entry))),
  );
}

/** The job's standing photos, newest first; null when there are none. */
export async function photoGallery(app, job) {
  const taken = fold.of_kind(fold.standing(job.entries), 'photo').reverse();
  if (!taken.length) return null;
  app.wantPhotos(await app.store.photos.lacking(taken.map(({ body }) => body.sha256)));
  return h('div', { class: 'photos' }, await Promise.all(taken.map((entry) => figure(app, entry))));
}
