/** All vehicles on this phone, found by tag code or by name. */

import {answersTo, codeIn} from '../parts/find.js';
import {draw as drawInterval} from '../figures/interval.js';
import {h} from '../dom.js';
import {words as terms} from '../reckon.js';

function open(row) {
  if (row.open.length) return row.open[0].state === 'sent_back' ? 'sent back to you' : 'job open';
  return row.pending ? terms.JOB_STATES.pending : '';
}

function vehicleRow(app, row) {
  const {interval} = row;
  return h('li', {}, h('a', {class: 'row', href: `/app#/vehicle/${row.id}`},
    h('b', {}, row.name), h('span', {class: 'code'}, row.tags.at(-1) ?? ''),
    interval && h('span', {class: 'wide'}, drawInterval(interval, {small: true, flip: app.flip})),
    h('span', {class: 'small'}, interval
      ? [terms.toward(interval.offset, 'mm'), ', ', h('span', {class: `word-${interval.state}`}, terms.VERDICTS[interval.state])]
      : h('span', {class: 'soft'}, 'not measured yet')),
    h('span', {class: 'small soft'}, open(row))));
}

function list(app, rows, text) {
  const found = rows.filter((row) => !row.retired && answersTo(row, text)).sort((a, b) => a.name.localeCompare(b.name));
  if (found.length) return h('ul', {class: 'rows'}, found.map((row) => vehicleRow(app, row)));
  if (text) return h('p', {}, 'No vehicle on this phone answers to that.');
  return h('p', {}, 'No vehicles on this phone yet. They come with the first word from the shop.');
}

function wantedWords(app) {
  return app.wanted && h('p', {class: 'notice', role: 'status'}, `The tag ${app.wanted} is not known on this phone. It opens as soon as the shop is heard and knows it.`);
}

function finder(app, rows, slot) {
  const input = h('input', {type: 'search', 'aria-label': 'Tag code or vehicle name', placeholder: 'Tag code or name', autocapitalize: 'characters', autocomplete: 'off', spellcheck: 'false',
    oninput: () => slot.replaceChildren(list(app, rows, codeIn(input.value) ?? input.value))});
  return h('form', {class: 'finder bottom', role: 'search', onsubmit: (event) => {
    event.preventDefault();
    const code = codeIn(input.value);
    if (code) return app.openTag(code);
    slot.querySelector('a')?.click();
  }}, input, h('button', {class: 'main'}, 'Open'));
}

/** The screen. */
export async function show(app) {
  const [rows, person] = [await app.store.vehicles(), await app.store.fact('person')];
  const slot = h('div', {}, list(app, rows, ''));
  const stranger = !person && h('p', {class: 'notice'}, 'This phone is not paired with a shop yet. ', h('a', {href: '/door'}, 'Go to the door'));
  const form = finder(app, rows, slot);
  const input = form.querySelector('input');
  return {
    title: 'Vehicles', under: person?.name ?? '',
    parts: [stranger, wantedWords(app), slot, form],
    busy: () => Boolean(input.value) || document.activeElement === input,
  };
}
