/** What is shown when the store of this phone does not open, and the way to a new one. */

import { h } from '../dom.js';
import { head, heldWords } from '../parts/frame.js';
import { entriesInWords } from '../parts/shop/missing_entries.js';
import { throwAway } from '../store/database.js';

const REMEMBERED = 'axlewright held';

/**
 * Remembers outside the store what it holds that the shop does not have; when that fails, nothing
 * is remembered.
 */
export function remember(counts) {
  try {
    localStorage.setItem(REMEMBERED, JSON.stringify(counts));
  } catch {
    // Storage is blocked or full; then the screen says that the number is not known.
  }
}

/** What was remembered last, or null. */
export function remembered() {
  try {
    return JSON.parse(localStorage.getItem(REMEMBERED));
  } catch {
    return null;
  }
}

// A store from before there were photos was remembered without them.
function lost({ onPhoneOnly, needYou, photos = 0 }) {
  return onPhoneOnly + needYou + photos;
}

/** What to say once the store was deleted, of what it held when it last told; `counts` or null. */
export function emptiedWords(counts) {
  const count = counts && lost(counts);
  const gone = count === null
    ? 'Whether the shop has all of it is not known.'
    : count === 0
    ? 'As far as we know, the shop has everything.'
    : `${entriesInWords(count)} that the shop does not have ${count === 1 ? 'is' : 'are'} gone.`;
  return 'What was saved on this phone was deleted, by somebody or by the browser. ' +
    `${gone} Pair this phone again: it then says which numbers never arrived. ` +
    'Until then nothing can be recorded.';
}

/** How many entries would be lost with the store, in words. */
function lossWords(counts) {
  if (!counts) return 'It may have entries that the shop does not have; how many is not known.';
  const count = lost(counts);
  if (!count) return 'As far as we know, the shop has everything that is in it.';
  const were = count === 1 ? 'entry' : 'entries';
  return `When it last opened, it had ${count} ${were} that the shop does not have.`;
}

function confirmButton(counts) {
  const count = counts ? lost(counts) : null;
  const named = count === null ? 'what is in it' : count > 0 && entriesInWords(count);
  return h(
    'button',
    { type: 'button', onclick: anew },
    named ? `Delete ${named} and start over` : 'Start over',
  );
}

async function anew(event) {
  event.target.disabled = true;
  const gone = await throwAway();
  if (gone) localStorage.removeItem(REMEMBERED);
  location.reload();
}

function rebuild(slot) {
  const counts = remembered();
  slot.replaceChildren(
    h('p', { class: 'answer' }, lossWords(counts)),
    counts && h('p', {}, `It said: ${heldWords(counts)}`),
    h(
      'p',
      {},
      'This deletes all Axlewright data on this phone, and the phone has to be paired again. ' +
        'Anything that is only here is lost for good. Before you do this, close the browser, ' +
        'open the app again, and restart the phone.',
    ),
    h(
      'div',
      { class: 'row-buttons' },
      h(
        'button',
        { type: 'button', class: 'main', onclick: () => location.reload() },
        'Keep it and try again',
      ),
      confirmButton(counts),
    ),
  );
}

/**
 * Shows it; only a damaged store can be given up, and only after a second question that names what
 * is lost.
 */
export function showBroken(app, error) {
  const slot = h('div', {});
  app.headSlot.replaceChildren(head({ title: 'Axlewright' }));
  app.main.replaceChildren(
    h('p', { class: 'answer' }, error.says ?? 'The data on this phone does not open.'),
    h(
      'p',
      {},
      'Nothing can be saved until it opens. Everything saved before is still there: ' +
        'it is not deleted.',
    ),
    h(
      'div',
      { class: 'row-buttons' },
      h('button', { type: 'button', class: 'main', onclick: () => location.reload() }, 'Try again'),
      error.damaged &&
        h(
          'button',
          { type: 'button', onclick: () => rebuild(slot) },
          'Delete the data and start over',
        ),
    ),
    slot,
  );
  error.later?.then(() => location.reload());
}
