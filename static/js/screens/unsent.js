/** What this phone holds that the shop does not have, and how the two get on. */

import { age, heardWords, heldWords } from '../parts/frame.js';
import { BUILD } from '../store/entries.js';
import { connectionParts } from '../parts/shop/connection.js';
import { h } from '../dom.js';
import { entry_words as entryWords } from '../reckon.js';
import { entriesInWords, missingWords } from '../parts/shop/missing_entries.js';
import { findVoice } from '../parts/device/speech.js';

function entryWordsOf(record) {
  const words = entryWords.entry_sentence(record, null, 'mm');
  return record.typed ? `${words}, typed ${record.typed}` : words;
}

function item(record, name) {
  return h(
    'li',
    {},
    h('span', {}, `${name}: ${entryWordsOf(record)}`),
    h('span', { class: 'soft' }, `no. ${record.local_no}`),
    h('span', { class: 'soft' }, `${age(record.made_at)} ago`),
  );
}

function needsItem(app, record, name) {
  const again = async () => {
    await app.store.offerAgain(record.id);
    app.shop.nudge();
  };
  return h(
    'li',
    {},
    h('span', {}, `${name}: ${entryWordsOf(record)}. ${record.reason ?? ''}`),
    h('span', { class: 'soft' }, `no. ${record.local_no}`),
    h(
      'div',
      { class: 'row-buttons' },
      h('button', { type: 'button', onclick: again }, 'Send again'),
      h('button', { type: 'button', onclick: () => app.store.setAside(record.id) }, 'Set aside'),
    ),
  );
}

async function names(app, records) {
  const rows = await Promise.all(
    [...new Set(records.map(({ vehicle }) => vehicle))].map((id) => app.store.vehicle(id)),
  );
  return new Map(rows.filter(Boolean).map((row) => [row.id, row.name]));
}

// The browser may read what it saves well after the touch, as when it asks where to.
function letGo(address) {
  setTimeout(() => URL.revokeObjectURL(address), 60000);
}

async function save(app) {
  const blob = await app.store.exportUnsent();
  const link = h('a', { href: URL.createObjectURL(blob), download: 'axlewright-unsent.jsonl' });
  link.click();
  letGo(link.href);
}

function photoItem(app, photo) {
  const again = async () => {
    await app.store.photos.offerAgain(photo.sha256);
    app.shop.nudge();
  };
  const save = (event) => {
    event.currentTarget.href = URL.createObjectURL(new Blob([photo.bytes], { type: 'image/jpeg' }));
    letGo(event.currentTarget.href);
  };
  return h(
    'li',
    {},
    h('span', {}, `Photo, ${Math.ceil(photo.bytes.byteLength / 1024)} kB. ${photo.reason ?? ''}`),
    h('span', { class: 'soft' }, `${age(photo.made_at)} ago`),
    h(
      'div',
      { class: 'row-buttons' },
      photo.reason && h('button', { type: 'button', onclick: again }, 'Send again'),
      h('a', {
        class: 'button',
        href: '#',
        download: `${photo.sha256.slice(0, 12)}.jpg`,
        onclick: save,
      }, 'Save it to a file'),
    ),
  );
}

/** The switch for the voice, with why it cannot be on where this phone has none of its own. */
function voiceSwitch(app) {
  const says = h('p', { class: 'soft', role: 'status' });
  const turn = async ({ target }) => {
    target.checked = await app.readBack.turn(target.checked);
    const silent = !app.readBack.on && await findVoice() === null;
    says.textContent = silent ? 'This phone has no English voice that works offline.' : '';
  };
  return [
    h(
      'label',
      { class: 'tick' },
      h('input', { type: 'checkbox', checked: app.readBack.on, onchange: turn }),
      'Speak each reading when it is saved',
    ),
    says,
  ];
}

function persistWarning(facts) {
  return facts.persisted === false &&
    h(
      'p',
      { class: 'notice', role: 'note' },
      'This browser may delete its data when the phone runs low on space. Send it to the ' +
        'shop soon, and keep Axlewright on the home screen.',
    );
}

function list(title, items) {
  return items.length > 0 &&
    h('section', { class: 'box' }, h('h2', {}, title), h('ol', { class: 'log' }, items));
}

/** The screen. */
export async function show(app) {
  const { store } = app;
  const [counts, unsent, needing, facts] = [
    await store.counts(),
    await store.unsent(),
    await store.needYou(),
    await store.facts(),
  ];
  const [lent, refused, photos] = [
    await store.lent(),
    await store.photos.inState('needs_you'),
    await store.photos.inState('kept'),
  ];
  const named = await names(app, [...unsent, ...needing]);
  const name = ({ vehicle }) => named.get(vehicle) ?? 'shop';
  const shop = app.shop.state();
  return {
    title: 'On this phone',
    back: () => history.back(),
    parts: [
      h('p', { class: 'answer' }, heldWords(counts, shop.heard)),
      h('p', {}, heardWords(shop), shop.trouble ? ` ${shop.says}` : ''),
      persistWarning(facts),
      h(
        'div',
        { class: 'row-buttons' },
        h(
          'button',
          { type: 'button', class: 'main', onclick: () => app.shop.nudge() },
          'Try the shop again',
        ),
        counts.onPhoneOnly + counts.needYou > 0 &&
          h('button', { type: 'button', onclick: () => save(app) }, 'Save unsent to a file'),
      ),
      connectionParts(facts, shop.trouble),
      lent.length > 0 &&
      h(
        'p',
        {},
        `The shop lost ${entriesInWords(lent.length)} of other people. ` +
          'This phone has a copy and sends it back.',
      ),
      list('Never arrived', (facts.missing ?? []).map((phone) => h('li', {}, missingWords(phone)))),
      list('Photos not at the shop', photos.map((photo) => photoItem(app, photo))),
      list('Not accepted by the shop', [
        ...needing.map((record) => needsItem(app, record, name(record))),
        ...refused.map((photo) => photoItem(app, photo)),
      ]),
      list('On this phone only', unsent.map((record) => item(record, name(record)))),
      h(
        'label',
        { class: 'tick' },
        h('input', { type: 'checkbox', checked: app.flip, onchange: () => app.turn() }),
        'Show left and right as seen from the front',
      ),
      voiceSwitch(app),
      h(
        'p',
        { class: 'soft' },
        facts.person ? `This phone is ${facts.person.name}\u2019s. ` : 'This phone is not paired. ',
        `App version ${BUILD}.`,
      ),
    ],
  };
}
