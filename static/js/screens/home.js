/** All vehicles on this phone, found by tag code or by name. */

import { answersTo, byName, codeIn, holds } from '../parts/find.js';
import { draw as drawInterval } from '../figures/interval.js';
import { h, line, s } from '../dom.js';
import { inIosTab, installHelp } from '../parts/device/install.js';
import { fold, terms } from '../reckon.js';

// So many rows fill the screen; the others follow once it is painted.
const AT_ONCE = 4;

function open(row) {
  if (row.open.length) return row.open[0].state === 'sent_back' ? 'sent back to you' : 'job open';
  return row.pending ? terms.JOB_STATES.pending : '';
}

function vehicleRow(app, row) {
  const { interval } = row;
  return h(
    'li',
    {},
    h(
      'a',
      { class: 'row', href: `/app#/vehicle/${row.id}` },
      h('b', {}, row.name),
      h('span', { class: 'code' }, row.tags.at(-1) ?? ''),
      interval &&
        h('span', { class: 'wide' }, drawInterval(interval, { small: true, flip: app.flip })),
      h(
        'span',
        {},
        interval
          ? [
            terms.toward(interval.offset, interval.unit),
            ', ',
            h(
              'span',
              { class: `word-${terms.verdict_color(interval.state, interval.held)}` },
              terms.verdict_said(interval.state, interval.held),
            ),
          ]
          : h('span', { class: 'soft' }, 'not measured yet'),
      ),
      h('span', { class: 'soft' }, open(row)),
    ),
  );
}

function noteRow(note, names) {
  const href = note.job
    ? `/app#/job/${note.job}/${note.round ?? 'as_found'}`
    : `/app#/vehicle/${note.vehicle}`;
  return h(
    'li',
    {},
    h(
      'a',
      { class: 'row', href },
      h('span', { class: 'wide' }, note.body.text),
      h(
        'span',
        { class: 'soft wide' },
        `${names.get(note.vehicle) ?? 'a vehicle'}, ${note.made_at.slice(0, 10)}`,
      ),
    ),
  );
}

function whenIdle(work) {
  (globalThis.requestIdleCallback ?? setTimeout)(work);
}

/** Rows of vehicles, `first` of them at once and the others bit by bit. */
function vehicleRows(app, found, first) {
  const element = h(
    'ul',
    { class: 'rows' },
    found.slice(0, first).map((row) => vehicleRow(app, row)),
  );
  const more = (from) => {
    // Another search, or another screen, took the list away.
    if (from >= found.length || (from > first && !element.isConnected)) return;
    element.append(...found.slice(from, from + AT_ONCE).map((row) => vehicleRow(app, row)));
    whenIdle(() => more(from + AT_ONCE));
  };
  whenIdle(() => more(first));
  return element;
}

/** Vehicles by name and tag code, and, when something is typed, notes that hold it. */
function list(app, { rows, notes }, text, first) {
  const found = rows.filter((row) => !row.retired && answersTo(row, text)).sort(byName);
  const said = text.trim() ? notes.filter(({ body }) => holds(body.text, text)).reverse() : [];
  const names = new Map(rows.map(({ id, name }) => [id, name]));
  if (found.length || said.length) {
    return [
      found.length > 0 && vehicleRows(app, found, first),
      said.length > 0 && [
        h('h2', {}, 'In notes'),
        h(
          'ul',
          { class: 'rows' },
          said.map((note) => noteRow(note, names)),
        ),
      ],
    ];
  }
  if (text) return h('p', {}, 'Nothing on this phone matches that.');
  return h(
    'p',
    {},
    'No vehicles on this phone yet. They arrive the first time this phone reaches the shop.',
  );
}

async function notesOf(store) {
  const [notes, struck] = [
    await store.entriesOf({ kind: 'note' }),
    await store.entriesOf({ kind: 'strike' }),
  ];
  return fold.of_kind(fold.standing([...notes, ...struck]), 'note');
}

/** A square with its three corners, as a tag's looks. */
function scanButton() {
  const corner = (
    x,
    y,
  ) => [
    s('rect', { x, y, width: 8, height: 8, class: 'line' }),
    s('rect', { x: x + 3, y: y + 3, width: 2, height: 2, class: 'bolt' }),
  ];
  const dots = [
    line(17, 17, 17, 20),
    line(21, 17, 25, 17),
    line(21, 21, 21, 25),
    line(25, 21, 25, 25),
  ];
  return h(
    'a',
    { class: 'button scan', href: '/app#/scan', 'aria-label': 'Scan a tag' },
    s(
      'svg',
      { viewBox: '2 2 26 26', class: 'fig', 'aria-hidden': 'true' },
      corner(5, 5),
      corner(17, 5),
      corner(5, 17),
      dots,
    ),
  );
}

/** The field and its buttons; notes are read from the store once something is looked for. */
function finder(app, rows, slot, first) {
  let notes = null;
  const show = () =>
    slot.replaceChildren(
      ...[list(app, { rows, notes: notes ?? [] }, input.value, first)].flat(Infinity).filter(
        Boolean,
      ),
    );
  const look = async () => {
    show();
    if (notes) return;
    notes = [];
    notes = await notesOf(app.store).catch((error) => {
      app.alarm(error.says);
      return [];
    });
    show();
  };
  const input = h('input', {
    type: 'search',
    'aria-label': 'Tag code, vehicle or note',
    placeholder: 'Tag or word',
    autocapitalize: 'characters',
    autocomplete: 'off',
    spellcheck: 'false',
    oninput: look,
  });
  show();
  return h(
    'form',
    {
      class: 'finder bottom',
      role: 'search',
      onsubmit: async (event) => {
        event.preventDefault();
        const code = codeIn(input.value);
        const row = code && await app.store.vehicleByTag(code);
        // A word of eight letters reads as a code too, so what is found goes before what would be
        // new.
        const first = row ? null : slot.querySelector('a');
        if (first) return first.click();
        return code ? app.openTag(code) : undefined;
      },
    },
    scanButton(),
    input,
    h('button', { class: 'main' }, 'Open'),
  );
}

/** The screen. */
export async function show(app) {
  const { vehicles: rows, facts } = await app.store.overview();
  const { person } = facts;
  app.know(facts);
  const slot = h('div', { class: 'found' });
  const stranger = !person &&
    h(
      'p',
      { class: 'notice' },
      'This phone is not paired with a shop yet. ',
      h('a', { href: '/app#/pair' }, 'Pair it'),
    );
  // Drawn again, the list is at once as long as it was: whoever had scrolled down stays there.
  const form = finder(
    app,
    rows,
    slot,
    Math.max(AT_ONCE, app.main.querySelectorAll('.found li').length),
  );
  const input = form.querySelector('input');
  return {
    title: 'Vehicles',
    under: person?.name ?? '',
    parts: [inIosTab() ? installHelp() : stranger, slot, form],
    busy: () => Boolean(input.value) || document.activeElement === input,
  };
}
