/** All words of the glossary, found by any word in their lines. */

import { h } from '../dom.js';
import { glossary, listed, NOT_HERE } from '../parts/glossary.js';
import { holds } from '../parts/find.js';

function found(sections, text) {
  const parts = sections.map(({ title, words, watch }) => {
    const lines = words.filter((row) => holds(row.join(' '), text));
    return lines.length > 0 && [
      h('h2', {}, title),
      listed(lines),
      watch && !text.trim() && h('p', { class: 'soft' }, `Watch out: ${watch}`),
    ];
  });
  const shown = parts.flat(Infinity).filter(Boolean);
  return shown.length ? shown : [h('p', {}, 'No word of the glossary matches that.')];
}

/** The screen. */
export async function show() {
  const sections = await glossary();
  const view = { title: 'Glossary', back: () => history.back() };
  if (!sections) return { ...view, parts: [h('p', {}, NOT_HERE)] };
  const slot = h('div', { class: 'found' });
  const input = h('input', {
    type: 'search',
    autocomplete: 'off',
    oninput: () => slot.replaceChildren(...found(sections, input.value)),
  });
  slot.replaceChildren(...found(sections, ''));
  return {
    ...view,
    parts: [
      h(
        'form',
        { role: 'search', onsubmit: (event) => event.preventDefault() },
        h('label', { class: 'field' }, 'Find a word', input),
      ),
      slot,
    ],
    busy: () => document.activeElement === input,
  };
}
