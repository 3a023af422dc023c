/** All vehicles on this phone, found by tag code or by name. */

import {answersTo, codeIn, holds} from '../parts/find.js';
import {draw as drawInterval} from '../figures/interval.js';
import {h, line, s} from '../dom.js';
import {inIosTab, installHelp} from '../parts/install.js';
import {fold, words as terms} from '../reckon.js';

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

function noteRow(note, names) {
  const href = note.job ? `/app#/job/${note.job}/${note.round ?? 'as_found'}` : `/app#/vehicle/${note.vehicle}`;
  return h('li', {}, h('a', {class: 'row', href}, h('span', {class: 'wide'}, note.body.text),
    h('span', {class: 'small soft wide'}, `${names.get(note.vehicle) ?? 'a vehicle'}, ${note.made_at.slice(0, 10)}`)));
}

/** Vehicles by name and tag code, and, when something is typed, notes that hold it. */
function list(app, {rows, notes}, text) {
  const found = rows.filter((row) => !row.retired && answersTo(row, text)).sort((a, b) => a.name.localeCompare(b.name));
  const said = text.trim() ? notes.filter(({body}) => holds(body.text, text)).reverse() : [];
  const names = new Map(rows.map(({id, name}) => [id, name]));
  if (found.length || said.length) {
    return [found.length > 0 && h('ul', {class: 'rows'}, found.map((row) => vehicleRow(app, row))),
      said.length > 0 && [h('h2', {}, 'In notes'), h('ul', {class: 'rows'}, said.map((note) => noteRow(note, names)))]];
  }
  if (text) return h('p', {}, 'Nothing on this phone answers to that.');
  return h('p', {}, 'No vehicles on this phone yet. They come with the first word from the shop.');
}

async function notesOf(store) {
  const [notes, struck] = [await store.entriesOf({kind: 'note'}), await store.entriesOf({kind: 'strike'})];
  return fold.of_kind(fold.standing([...notes, ...struck]), 'note');
}

/** A square with its three corners, as a tag's looks. */
function scanButton() {
  const corner = (x, y) => [s('rect', {x, y, width: 8, height: 8, class: 'line'}), s('rect', {x: x + 3, y: y + 3, width: 2, height: 2, class: 'bolt'})];
  const dots = [line(17, 17, 17, 20), line(21, 17, 25, 17), line(21, 21, 21, 25), line(25, 21, 25, 25)];
  return h('a', {class: 'button scan', href: '/app#/scan', 'aria-label': 'Scan a tag'}, s('svg', {viewBox: '2 2 26 26', class: 'fig', 'aria-hidden': 'true'}, corner(5, 5), corner(17, 5), corner(5, 17), dots));
}

function finder(app, found, slot) {
  const show = () => slot.replaceChildren(...[list(app, found, input.value)].flat(Infinity).filter(Boolean));
  const input = h('input', {type: 'search', 'aria-label': 'Tag code, vehicle or note', placeholder: 'Tag or word', autocapitalize: 'characters', autocomplete: 'off', spellcheck: 'false', oninput: show});
  show();
  return h('form', {class: 'finder bottom', role: 'search', onsubmit: async (event) => {
    event.preventDefault();
    const code = codeIn(input.value);
    const row = code && await app.store.vehicleByTag(code);
    // A word of eight letters reads as a code too, so what is found goes before what would be new.
    const first = row ? null : slot.querySelector('a');
    if (first) return first.click();
    return code ? app.openTag(code) : undefined;
  }}, scanButton(), input, h('button', {class: 'main'}, 'Open'));
}

/** The screen. */
export async function show(app) {
  const [rows, person, notes] = [await app.store.vehicles(), await app.store.fact('person'), await notesOf(app.store)];
  const slot = h('div', {class: 'found'});
  const stranger = !person && h('p', {class: 'notice'}, 'This phone is not paired with a shop yet. ', h('a', {href: '/app#/join'}, 'Pair it'));
  const form = finder(app, {rows, notes}, slot);
  const input = form.querySelector('input');
  return {
    title: 'Vehicles', under: person?.name ?? '',
    parts: [inIosTab() ? installHelp() : stranger, slot, form],
    busy: () => Boolean(input.value) || document.activeElement === input,
  };
}
