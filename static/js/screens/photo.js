/**
 * A photo of a joint, a contact or a weld: kept on this phone as it is taken, and sent when the
 * shop is near.
 */

import { closedWords, isOpen, stepHead } from '../parts/measure/step.js';
import { h } from '../dom.js';
import { longest } from '../store/contract.js';
import { loadJob } from '../model.js';
import { madeAt } from '../store/entries.js';
import { photoGallery } from '../parts/device/gallery.js';
import { sha256 } from '../store/sha256.js';
import { shrink } from '../parts/device/shrink_photo.js';
import { fold, numbers, terms } from '../reckon.js';

function choices(chosen) {
  return h(
    'fieldset',
    {},
    h('legend', {}, 'A photo of'),
    h(
      'div',
      { class: 'picks abreast' },
      Object.entries(terms.PHOTO_WORDS).map(([value, text]) =>
        h(
          'label',
          { class: 'pick' },
          h('input', { type: 'radio', name: 'of', value, checked: value === chosen }),
          text,
        )
      ),
    ),
  );
}

async function keepPhoto(app, job, round, file, { of, text }) {
  const { bytes, width, height } = await shrink(file);
  const name = sha256(bytes);
  const body = { sha256: name, of, width, height, bytes: bytes.length, ...(text ? { text } : {}) };
  await app.keep([{ kind: 'photo', vehicle: job.vehicle, job: job.job, round, body }], {
    photos: [{ sha256: name, bytes: bytes.buffer, made_at: madeAt() }],
  });
}

/** Whether a photo was just taken and kept, and how many the job has, from any phone. */
function takenWords(saved, count) {
  const says = saved
    ? 'Saved on this phone.'
    : 'A photo is saved when you take it, and sent after the readings.';
  return count ? `${says} ${numbers.counted(count, 'photo', 'photos')} in this job.` : says;
}

async function taker(app, job, round, { of, saved }) {
  const fault = h('p', { class: 'fault', role: 'alert' });
  const words = h('span', {}, 'Take the photo');
  const maxlength = longest('photo', 'text');
  const text = h('input', { name: 'text', maxlength, autocomplete: 'off' });
  const take = async (event) => {
    const [file] = event.target.files;
    if (!file) return;
    fault.textContent = '';
    words.textContent = 'Resizing\u2026';
    const chosen = form.elements.of.value;
    try {
      await keepPhoto(app, job, round, file, { of: chosen, text: text.value.trim() });
      text.value = '';
      await app.redraw({ of: chosen, saved: true });
    } catch (error) {
      fault.textContent = error.says ?? String(error);
      event.target.value = '';
      words.textContent = 'Take the photo';
    }
  };
  const camera = h('input', {
    type: 'file',
    accept: 'image/*',
    capture: 'environment',
    class: 'unseen',
    onchange: take,
  });
  const count = fold.of_kind(fold.standing(job.entries), 'photo').length;
  const form = h(
    'form',
    { class: 'taker', onsubmit: (event) => event.preventDefault() },
    choices(of),
    h('label', { class: 'field' }, 'What to look at (optional)', text),
    fault,
    h('p', { class: 'ask', role: 'status' }, takenWords(saved, count)),
    await photoGallery(app, job),
    h('div', { class: 'bottom row-buttons' }, h('label', { class: 'button main' }, camera, words)),
  );
  return { form, text };
}

/** The screen; `of` is what the next photo is of, and `saved` whether one was just taken. */
export async function show(app, { id, round, of = 'joint', saved = false }) {
  const job = await loadJob(app.store, id);
  const { form, text } = await taker(app, job, round, { of, saved });
  return {
    ...stepHead(app, job, round, 'photo'),
    parts: [closedWords(job), isOpen(job) ? form : await photoGallery(app, job)],
    busy: () => Boolean(text.value) || document.activeElement === text,
  };
}
