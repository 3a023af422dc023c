/** Entries that another phone of this person made and that never arrived at the shop. */

import { notice } from '../frame.js';
import { numbers } from '../../reckon.js';

/** A number of entries in words. */
export function entriesInWords(count) {
  return numbers.counted(count, 'entry', 'entries');
}

/** Running numbers as people list them: 4, 7 to 8. */
export function numbersInWords(ranges) {
  const inWords = ([first, last]) => (first === last ? `${first}` : `${first} to ${last}`);
  return ranges.map(inWords).join(', ');
}

/** One phone's missing entries in a sentence. */
export function missingWords({ name, made, here, ranges }) {
  return `${entriesInWords(made - here)} of ${name} never arrived at the shop: ` +
    `no. ${numbersInWords(ranges)}. It made ${made}, and the shop has ${here}.`;
}

/**
 * Shows, once for each change, that entries are missing: a phone whose store was wiped must not
 * open as if nothing had ever been.
 */
export async function tellMissing(app) {
  const { missing = [], missing_told: told = null } = await app.store.facts();
  const state = JSON.stringify(missing.map(({ id, made, here }) => [id, made, here]));
  if (!missing.length || state === told) return;
  await app.store.setFact('missing_told', state);
  const says = `${missing.map(missingWords).join(' ')} ` +
    'If that was this phone, take those readings again.';
  const band = notice(says, 'OK', () => band.remove());
  app.bands.append(band);
}
