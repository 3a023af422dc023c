/** Making this phone somebody's, by a pairing code. */

import { ask, PATIENCE_MS, stranger, Trouble, VERSION } from './http.js';
import { inOneTab } from './one_tab.js';
import { numbers } from '../reckon.js';

async function askToPair(body, credential, patience) {
  try {
    return await ask('/door/pair', { body, credential, patience });
  } catch (trouble) {
    throw new Trouble(trouble.kind, { says: trouble.told ?? trouble.says, cause: trouble });
  }
}

async function heldBy(store) {
  const { onPhoneOnly, needYou, photos } = await store.counts();
  return onPhoneOnly + needYou + photos;
}

/**
 * Rejects while the phone holds entries that could not be sent in the name of a new person or to a
 * new shop.
 */
async function holdNothing(store) {
  const held = await heldBy(store);
  const says = `This phone still has ${numbers.counted(held, 'entry', 'entries')} ` +
    'from another person or shop. Send or save them first.';
  if (held) throw new Trouble('other_shop', { says, held });
}

/**
 * The person {id, name, role} whose phone this is from here on, by a pairing code; rejects with
 * Trouble.
 */
export async function pair(store, code, { patience = PATIENCE_MS } = {}) {
  const before = await store.facts();
  // Named again, the shop can give this phone a new credential without making it a new phone; told
  // whose entries it holds, it uses up no code of anybody else.
  const holds_for = await heldBy(store) ? before.person?.id : undefined;
  const named = { code, phone: before.phone?.id, holds_for };
  const reply = await askToPair(named, before.credential, patience);
  const { v, server_id, phone, person, credential } = reply;
  if (!credential || !server_id || !phone?.id) throw stranger();
  if (v !== VERSION) throw new Trouble('old_shop');
  const sameShop = before.server_id === server_id;
  if (before.server_id && !(sameShop && before.person.id === person.id)) await holdNothing(store);
  // A known shop in another epoch is met by the next exchange, which then offers everything again.
  const epoch = sameShop ? before.epoch : reply.epoch;
  // What a round under way still reads belongs to the shop that is left: it ends first.
  await inOneTab(async () => {
    if (before.server_id && !sameShop) await store.startOver();
    await store.setFacts({ server_id, epoch, phone, person, credential });
  }, patience);
  return person;
}
