/** What waits for the person today, then all vehicles on this phone; found by any word on it. */

import { answersTo, byName, codeIn, holds } from '../parts/find.js';
import { draw as drawInterval } from '../figures/interval.js';
import { h, line, s } from '../dom.js';
import { inIosTab, installHelp } from '../parts/device/install.js';
import { madeAt } from '../store/entries.js';
import {
  day_words as dayWords,
  fold,
  my_day as myDay,
  people_words as peopleWords,
  terms,
} from '../reckon.js';

// So many rows fill the screen; the others follow once it is painted.
const AT_ONCE = 4;
// More lines of the day than these are folded away, so that the vehicles stay near.
const LINES_SHOWN = 3;

/** What a vehicle's row says in words, which is what is searched. */
function rowWords(row, names) {
  const { interval } = row;
  return {
    sits: interval && `${dayWords.offset_words(interval.offset, interval.unit)}, `,
    verdict: interval && terms.verdict_said(interval.state, interval.held),
    measured: dayWords.measured_words(row.measured),
    states: dayWords.state_lines(row, names),
  };
}

function vehicleRow(app, row, words) {
  const { interval } = row;
  return h(
    'li',
    {},
    h(
      'a',
      { class: 'row', href: `/app#/vehicle/${row.id}` },
      h('b', {}, row.name),
      h('span', { class: 'code' }, row.tags.at(-1) ?? ''),
      interval && [
        h('span', { class: 'wide' }, drawInterval(interval, { small: true, flip: app.flip })),
        h(
          'span',
          { class: 'wide' },
          words.sits,
          h(
            'span',
            { class: `word-${terms.verdict_color(interval.state, interval.held)}` },
            words.verdict,
          ),
        ),
      ],
      h('span', { class: 'soft wide' }, words.measured),
      words.states.map((says) => h('span', { class: 'wide' }, says)),
    ),
  );
}

function dayRow(line) {
  const href = line.what ? `/app#/vehicle/${line.vehicle}` : `/app#/job/${line.job}/${line.round}`;
  const says = dayWords.line_words(line);
  return h(
    'li',
    {},
    h(
      'a',
      { class: 'row', href },
      h('b', { class: 'wide' }, line.name),
      says.map((each, index) =>
        h('span', { class: index && index === says.length - 1 ? 'soft wide' : 'wide' }, each)
      ),
    ),
  );
}

function dayRows(lines, section) {
  return h('ul', { class: `rows day ${section}` }, lines.map(dayRow));
}

/** What waits for the person, section by section; of what is typed, the lines that hold it. */
function daySections(day, text) {
  return day.map(({ section, lines }) => {
    const title = dayWords.SECTION_TITLES[section];
    const found = lines.filter((line) =>
      holds([title, line.name, ...dayWords.line_words(line)].join(' '), text)
    );
    const more = found.splice(text ? found.length : LINES_SHOWN);
    return found.length > 0 && [
      h('h2', {}, title),
      dayRows(found, section),
      more.length > 0 && h(
        'details',
        { class: 'box' },
        h('summary', {}, `${more.length} more: ${title.toLowerCase()}`),
        dayRows(more, section),
      ),
    ];
  });
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
function vehicleRows(app, found, first, wordsOf) {
  const element = h(
    'ul',
    { class: 'rows vehicles' },
    found.slice(0, first).map((row) => vehicleRow(app, row, wordsOf(row))),
  );
  const more = (from) => {
    // Another search, or another screen, took the list away.
    if (from >= found.length || (from > first && !element.isConnected)) return;
    element.append(
      ...found.slice(from, from + AT_ONCE).map((row) => vehicleRow(app, row, wordsOf(row))),
    );
    whenIdle(() => more(from + AT_ONCE));
  };
  whenIdle(() => more(first));
  return element;
}

/**
 * The day and all vehicles; of what is typed, the vehicles, lines and notes that hold it.
 */
function list(app, { rows, notes, day, people, person }, text, first) {
  const called = peopleWords.called(people, person);
  const wordsOf = (row) => rowWords(row, called);
  // Whoever is called you on this phone is found by name too.
  const ownNames = peopleWords.called(people, null);
  const byNames = (row) => dayWords.state_lines(row, ownNames);
  const shown = rows.filter(({ retired }) => !retired);
  const found = shown.filter((row) =>
    answersTo(row, text, () => [...Object.values(wordsOf(row)), byNames(row)].flat().join(' '))
  ).sort(byName);
  const vehicles = found.length > 0 && vehicleRows(app, found, first, wordsOf);
  if (!text.trim()) {
    return [
      day.length > 0 ? daySections(day, '') : person && h('p', {}, dayWords.NOTHING),
      vehicles ? [h('h2', {}, 'Vehicles'), vehicles] : h(
        'p',
        {},
        'No vehicles on this phone yet. They arrive the first time this phone reaches the shop.',
      ),
    ];
  }
  const said = notes.filter(({ body }) => holds(body.text, text)).reverse();
  const names = new Map(rows.map(({ id, name }) => [id, name]));
  const parts = [
    vehicles,
    daySections(day, text),
    said.length > 0 && [
      h('h2', {}, 'In notes'),
      h(
        'ul',
        { class: 'rows' },
        said.map((note) => noteRow(note, names)),
      ),
    ],
  ].flat(Infinity).filter(Boolean);
  return parts.length ? parts : h('p', {}, 'Nothing on this phone matches that.');
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
function finder(app, held, slot, first) {
  let notes = null;
  const show = () =>
    slot.replaceChildren(
      ...[list(app, { ...held, notes: notes ?? [] }, input.value, first)].flat(Infinity).filter(
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
    'aria-label': 'Tag code, or any word on this screen or in a note',
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
  const { person, people = {} } = facts;
  app.know(facts);
  const me = person?.id ?? '';
  const day = myDay.day_sections(rows, me, madeAt().slice(0, 10));
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
    { rows, day, people, person: me },
    slot,
    Math.max(AT_ONCE, app.main.querySelectorAll('.vehicles li').length),
  );
  const input = form.querySelector('input');
  return {
    title: 'My day',
    under: person?.name ?? '',
    parts: [inIosTab() ? installHelp() : stranger, slot, form],
    busy: () => Boolean(input.value) || document.activeElement === input,
  };
}
