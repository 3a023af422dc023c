/** The frame of every screen: title block, honest state line, alarms and notices. */

import { h } from '../dom.js';

/** `since` as people say it: 40 s, 12 min, 3 h, 2 days. */
export function age(since, now = Date.now()) {
  const seconds = Math.max(0, (now - Date.parse(since)) / 1000);
  if (seconds < 60) return `${Math.round(seconds)} s`;
  if (seconds < 3600) return `${Math.round(seconds / 60)} min`;
  if (seconds < 86400 * 2) return `${Math.round(seconds / 3600)} h`;
  return `${Math.round(seconds / 86400)} days`;
}

/** When the shop was last heard from, in words; with a `trouble` nobody is in contact. */
export function heardWords({ heard, trouble }, now = Date.now()) {
  if (!heard) return 'No contact with the shop yet.';
  const seconds = (now - Date.parse(heard)) / 1000;
  return seconds < 60 && !trouble ? 'In contact.' : `Last contact ${age(heard, now)} ago.`;
}

/** What is on this phone only, in words. */
export function heldWords(
  { onPhoneOnly, photos = 0, oldest, needYou },
  heard = null,
  now = Date.now(),
) {
  const nothing = heard ? 'Everything is at the shop.' : 'Nothing is on this phone only.';
  const kept = [
    onPhoneOnly && `${onPhoneOnly} on this phone only`,
    photos && `${photos} ${photos === 1 ? 'photo' : 'photos'} not at the shop`,
  ].filter(Boolean);
  const held = kept.length ? `${kept.join(', ')}, oldest ${age(oldest, now)}.` : nothing;
  return needYou ? `${needYou} not accepted by the shop. ${held}` : held;
}

/** The line that says on every screen what the shop does not have yet. */
export class StateLine {
  constructor(onOpen) {
    this.words = h('span', {}, 'Opening the data on this phone.');
    this.element = h(
      'button',
      { type: 'button', class: 'state', onclick: onOpen },
      h('i', { 'aria-hidden': 'true' }),
      this.words,
    );
  }

  show(counts, shop) {
    // What to do about it is said on the screen that the line opens.
    const trouble = shop.trouble ? ` ${/^[^.]*\.?/.exec(shop.says)[0]}` : '';
    this.element.classList.toggle('holds', counts.onPhoneOnly + counts.photos + counts.needYou > 0);
    this.element.classList.toggle('trouble', Boolean(shop.trouble) || counts.needYou > 0);
    const text = `${heldWords(counts, shop.heard)} ${heardWords(shop)}${trouble}`;
    if (this.words.textContent !== text) this.words.textContent = text;
  }
}

/** The title block: where one is, the way back, and what the words on the screen mean. */
export function head({ title, under = '', back = null }, onWords = null) {
  return h(
    'header',
    { class: 'head' },
    back &&
      h('button', { type: 'button', class: 'back', 'aria-label': 'Back', onclick: back }, '\u2190'),
    h('div', {}, h('h1', {}, title), under && h('p', {}, under)),
    onWords && h(
      'button',
      { type: 'button', 'aria-label': 'Words on this screen', onclick: onWords },
      '?',
    ),
  );
}

/** A red band that stays until somebody closes it. */
export function alarm(says, onClose) {
  return h(
    'div',
    { class: 'alarm', role: 'alert' },
    h('p', {}, says),
    h('button', { type: 'button', onclick: onClose }, 'Close'),
  );
}

/** A calm band with one thing to do. */
export function notice(says, action, onAct) {
  return h(
    'div',
    { class: 'notice', role: 'status' },
    h('p', {}, says),
    action && h('button', { type: 'button', onclick: onAct }, action),
  );
}
