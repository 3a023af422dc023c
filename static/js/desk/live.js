/**
 * Keeps a list as the shop has it, without reloading the page: asks again, and draws what changed.
 */

import { drawFigures } from './figures.js';
import { focusItem } from './keys.js';
import { h } from '../dom.js';

const EVERY = 8000;

function places(list) {
  const items = [...list.querySelectorAll('[data-list] > li')];
  return { items, at: items.findIndex((item) => item.contains(document.activeElement)) };
}

function keepFocus(list, before) {
  if (before.at < 0) return;
  const same = document.getElementById(before.items[before.at].id);
  const after = places(list).items;
  const item = same ?? after[Math.min(before.at, after.length - 1)];
  if (item) focusItem(item.querySelector('a'));
}

function counted(list, says) {
  const count = list.querySelector('[data-count]')?.dataset.count;
  const shown = document.querySelector('[data-waiting]');
  if (!shown || count === undefined || shown.textContent === count) return;
  shown.textContent = count;
  says.textContent = count === '1' ? '1 job pending review.' : `${count} jobs pending review.`;
}

/** Asks for the list again and again while the page is in sight. */
export function startLive(list) {
  const says = h('p', { class: 'hidden-words', 'aria-live': 'polite' });
  list.after(says);
  let tag = null;
  const ask = async () => {
    const headers = tag ? { 'If-None-Match': tag } : {};
    const answer = await fetch(list.dataset.live, {
      headers,
      cache: 'no-store',
      redirect: 'error',
    });
    if (answer.status !== 200) return;
    tag = answer.headers.get('ETag');
    const html = await answer.text();
    const before = places(list);
    list.innerHTML = html;
    drawFigures(list);
    keepFocus(list, before);
    counted(list, says);
  };
  const renew = async () => {
    // Out of reach or signed out, the list stays as it was; a decision checks what it was taken on.
    if (!document.hidden) await ask().catch(() => {});
    setTimeout(renew, EVERY);
  };
  setTimeout(renew, EVERY);
}
