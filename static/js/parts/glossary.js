/** The glossary at hand: which of its words stand on a screen, and the line of each. */

import { BUILD } from '../store/entries.js';
import { h } from '../dom.js';

// A touch there does something else.
const TAKEN = 'a, button, label, summary, input, select, textarea, dialog, svg';
const NAME = 'glossary';
// How far beside a word a finger may land, px.
const SLACK = 8;

/** What is said while the phone does not have it. */
export const NOT_HERE = 'The glossary comes to this phone the next time it reaches the shop.';

let sections = null;
let words = null;

/** The sections, each {title, words, watch}; null where this phone does not have them yet. */
export async function glossary() {
  sections ??= await fetch(`/shell/${BUILD}/glossary.json`)
    .then((answer) => answer.ok ? answer.json() : null)
    .catch(() => null);
  return sections;
}

/** {rows, pattern}: lines by each of their words in small letters, and what finds such a word. */
function wordsOf(found) {
  const rows = new Map(
    found.flatMap((section) => section.words).filter(([, , , always]) => always)
      .flatMap((row) => row[0].split(', ').map((word) => [word.toLowerCase(), row])),
  );
  const longestFirst = [...rows.keys()].sort((a, b) => b.length - a.length);
  return { rows, pattern: new RegExp(`(?<![\\w-])(${longestFirst.join('|')})s?(?![\\w-])`, 'gi') };
}

async function known() {
  const found = await glossary();
  words ??= found && wordsOf(found);
  return words;
}

/** Every place of a text node that has a word of the glossary, {row, node, from, to} each. */
function hitsIn(node, { rows, pattern }) {
  return [...node.data.matchAll(pattern)].map((hit) => ({
    row: rows.get(hit[1].toLowerCase()),
    node,
    from: hit.index,
    to: hit.index + hit[0].length,
  }));
}

/** The same of a whole element. */
function hitsOn(element, known) {
  const hits = [];
  const walker = document.createTreeWalker(element, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) hits.push(...hitsIn(walker.currentNode, known));
  return hits;
}

function rangeOf({ node, from, to }) {
  const range = new Range();
  range.setStart(node, from);
  range.setEnd(node, to);
  return range;
}

/** Lines of the glossary as a list. */
export function listed(rows) {
  return h(
    'dl',
    { class: 'words' },
    rows.map(([word, meaning, also]) => [
      h('dt', {}, word),
      h('dd', {}, `${meaning}.`, also && h('span', { class: 'soft' }, ` Also called: ${also}.`)),
    ]),
  );
}

/** Underlines the first of each word that can be touched. */
async function mark(main) {
  const all = await known();
  if (!all) return;
  const first = new Map();
  for (const hit of hitsOn(main, all)) {
    if (!first.has(hit.row) && !hit.node.parentElement.closest(TAKEN)) first.set(hit.row, hit);
  }
  CSS.highlights.set(NAME, new Highlight(...[...first.values()].map(rangeOf)));
}

/** Marks the words of a screen that was just drawn, once there is time. */
export function markWords(main) {
  if (CSS.highlights) (globalThis.requestIdleCallback ?? setTimeout)(() => mark(main));
}

/** The word of the glossary under a finger, as its line, or undefined. */
function touched({ clientX: x, clientY: y, target }, all) {
  if (target.closest(TAKEN)) return undefined;
  const near = (range) =>
    [...range.getClientRects()].some(({ left, right, top, bottom }) =>
      x > left - SLACK && x < right + SLACK && y > top - SLACK && y < bottom + SLACK
    );
  return hitsOn(target, all).find((hit) => near(rangeOf(hit)))?.row;
}

function tell(title, rows) {
  const dialog = h(
    'dialog',
    { 'aria-label': title, onclose: () => dialog.remove() },
    h(
      'form',
      { method: 'dialog' },
      rows ? listed(rows) : h('p', {}, NOT_HERE),
      h(
        'div',
        { class: 'row-buttons' },
        h(
          'a',
          { class: 'button', href: `/app#/${NAME}`, onclick: () => dialog.close() },
          'All words',
        ),
        h('button', { class: 'main' }, 'Close'),
      ),
    ),
  );
  document.body.append(dialog);
  dialog.showModal();
}

/** Opens the lines of all words that stand in `main`. */
export async function tellWords(main) {
  const all = await known();
  const rows = all && new Set(hitsOn(main, all).map(({ row }) => row));
  tell('Words on this screen', rows && [...rows].sort(([a], [b]) => a < b ? -1 : 1));
}

/** Opens the line of a word that is touched anywhere in `main`. */
export function watchWords(main) {
  main.addEventListener('click', async (event) => {
    const all = await known();
    const row = all && touched(event, all);
    if (row) tell(row[0], [row]);
  });
}
