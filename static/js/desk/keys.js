/**
 * Plain keys for whoever reviews many jobs: they only move the focus, so that nothing
 * is decided by a slip.
 * They can be turned off, for people whose voice or hand strikes single keys unasked (WCAG 2.1.4).
 */

import { h } from '../dom.js';

const OFF = 'desk-keys-off';
const SAID = [
  ['j', 'next in the list, or the next pending job'],
  ['k', 'the previous one'],
  ['Enter', 'open it'],
  ['d', 'on a job: down to the decision'],
  ['a', 'on a job: to Accept; Enter then accepts'],
  ['s', 'on a job: to the reason for sending it back'],
  ['r', 'on a job: to Ask for a second reading'],
  ['u', 'on a job: up to the list'],
  ['/', 'search'],
  ['?', 'this help'],
];

function isOff() {
  return localStorage.getItem(OFF) === 'yes';
}

function itemLinks() {
  return [...document.querySelectorAll('[data-list] > li, [data-list] tbody > tr')].map((item) =>
    item.querySelector('a')
  ).filter(Boolean);
}

/** Puts the focus on a link of the list, in sight with all of its item. */
export function focusItem(link) {
  link.focus({ preventScroll: true });
  link.closest('li, tr').scrollIntoView({ block: 'nearest' });
}

function move(step) {
  const links = itemLinks();
  if (!links.length) return false;
  const at = links.findIndex((link) => link.closest('li, tr').contains(document.activeElement));
  const to = at < 0
    ? (step > 0 ? 0 : links.length - 1)
    : Math.min(links.length - 1, Math.max(0, at + step));
  focusItem(links[to]);
  return true;
}

function follow(key) {
  /** @type {HTMLElement | null} */
  const target = document.querySelector(`[data-key-to="${key}"]`);
  if (!target) return false;
  const within = target.matches('a[href^="#"]') &&
    document.querySelector(target.getAttribute('href'));
  if (within) within.scrollIntoView({ block: 'start' });
  else if (target.matches('a')) target.click();
  else target.focus();
  return true;
}

function search() {
  /** @type {HTMLInputElement | null} */
  const field = document.querySelector('input[type="search"]');
  field?.focus();
  return Boolean(field);
}

function help() {
  const off = h('input', {
    type: 'checkbox',
    checked: isOff(),
    onchange: (event) => localStorage.setItem(OFF, event.target.checked ? 'yes' : 'no'),
  });
  const dialog = h(
    'dialog',
    {
      class: 'keys',
      'aria-label': 'Keys',
      onclose: () => dialog.remove(),
    },
    h('h2', {}, 'Keys'),
    h(
      'dl',
      {},
      SAID.map(([key, says]) => h('div', {}, h('dt', {}, h('kbd', {}, key)), h('dd', {}, says))),
    ),
    h('label', { class: 'choice' }, off, 'Turn these keys off on this computer'),
    h('form', { method: 'dialog' }, h('button', { class: 'main' }, 'Close')),
  );
  document.body.append(dialog);
  dialog.showModal();
  return true;
}

const KEYS = {
  j: () => follow('j') || move(1),
  k: () => follow('k') || move(-1),
  '/': search,
  '?': help,
};

function pressed(event) {
  if (event.ctrlKey || event.altKey || event.metaKey || event.isComposing) return;
  if (event.target.closest('input, textarea, select, dialog') || (isOff() && event.key !== '?')) {
    return;
  }
  const act = KEYS[event.key] ?? (/^[adrsu]$/.test(event.key) && (() => follow(event.key)));
  if (act && act()) event.preventDefault();
}

/** Listens for the keys, says that they are there, and begins at the job that the address names. */
export function startKeys() {
  document.addEventListener('keydown', pressed);
  /** @type {NodeListOf<HTMLElement>} */
  const hints = document.querySelectorAll('[data-keys-hint]');
  for (const hint of hints) {
    hint.hidden = false;
    hint.append(
      h('kbd', {}, 'j'),
      ' and ',
      h('kbd', {}, 'k'),
      ' go through the list, ',
      h('kbd', {}, 'Enter'),
      ' opens. ',
      h('button', { type: 'button', class: 'plain', onclick: help }, 'All keys'),
    );
  }
  const named = location.hash.startsWith('#job-') &&
    document.getElementById(location.hash.slice(1))?.querySelector('a');
  if (named) focusItem(named);
}
