/** What this phone holds that the shop does not have, and how the two get on. */

import {age, heardWords, heldWords} from '../parts/frame.js';
import {BUILD} from '../entries.js';
import {h} from '../dom.js';
import {logged} from '../reckon.js';
import {entriesInWords, missingWords} from '../parts/missing.js';

function kindWords(record) {
  if (logged.is_logged_here(record.body)) return `${logged.what(record.body)}, ${logged.value(record.body)}`;
  return `${record.kind.replace('_', ' ')}${record.typed ? ` ${record.typed}` : ''}`;
}

function item(record, name) {
  return h('li', {}, h('span', {}, `${name}: ${kindWords(record)}`), h('span', {class: 'small soft'}, `no. ${record.local_no}`), h('span', {class: 'small soft'}, `${age(record.made_at)} ago`));
}

function needsItem(app, record, name) {
  const again = async () => { await app.store.offerAgain(record.id); app.shop.nudge(); };
  return h('li', {}, h('span', {}, `${name}: ${kindWords(record)}. ${record.reason ?? ''}`), h('span', {class: 'small soft'}, `no. ${record.local_no}`),
    h('div', {class: 'row-buttons'}, h('button', {type: 'button', onclick: again}, 'Offer it again'), h('button', {type: 'button', onclick: () => app.store.setAside(record.id)}, 'Set it aside')));
}

async function names(app, records) {
  const rows = await Promise.all([...new Set(records.map(({vehicle}) => vehicle))].map((id) => app.store.vehicle(id)));
  return new Map(rows.filter(Boolean).map((row) => [row.id, row.name]));
}

async function save(app) {
  const blob = await app.store.exportUnsent();
  const link = h('a', {href: URL.createObjectURL(blob), download: 'axlewright-unsent.jsonl'});
  link.click();
  URL.revokeObjectURL(link.href);
}

function list(title, items) {
  return items.length > 0 && h('section', {class: 'box'}, h('h2', {}, title), h('ol', {class: 'log'}, items));
}

/** The screen. */
export async function show(app) {
  const {store} = app;
  const [counts, unsent, needing, facts] = [await store.counts(), await store.unsent(), await store.needYou(), await store.facts()];
  const lent = await store.lent();
  const named = await names(app, [...unsent, ...needing]);
  const name = ({vehicle}) => named.get(vehicle) ?? 'shop';
  const shop = app.shop.state();
  return {
    title: 'On this phone', back: () => history.back(),
    parts: [
      h('p', {class: 'answer'}, heldWords(counts, shop.heard)), h('p', {}, heardWords(shop.heard), shop.trouble ? ` ${shop.says}` : ''),
      h('div', {class: 'row-buttons'}, h('button', {type: 'button', class: 'main', onclick: () => app.shop.nudge()}, 'Try the shop again'),
        counts.onPhoneOnly + counts.needYou > 0 && h('button', {type: 'button', onclick: () => save(app)}, 'Save unsent to a file')),
      lent.length > 0 && h('p', {}, `The shop lost ${entriesInWords(lent.length)} of others. This phone holds a copy and hands it back.`),
      list('Never arrived', (facts.missing ?? []).map((phone) => h('li', {}, missingWords(phone)))),
      list('Not accepted by the shop', needing.map((record) => needsItem(app, record, name(record)))),
      list('On this phone only', unsent.map((record) => item(record, name(record)))),
      h('label', {class: 'tick'}, h('input', {type: 'checkbox', checked: app.flip, onchange: () => app.turn()}), 'Show left and right as seen from the front'),
      h('p', {class: 'soft small'}, facts.persisted === false ? 'This browser may clear what it holds when the phone runs short of room. Let the shop have it soon.' : ''),
      h('p', {class: 'soft small'}, `${facts.person ? `This phone is ${facts.person.name}\u2019s. ` : 'This phone is not paired. '}Build ${BUILD}.`),
    ],
  };
}
