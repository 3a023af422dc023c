/**
 * What the connection to the shop needs of a person: its certificate ends, it moved, it is not to
 * be verified.
 */

import { h } from '../../dom.js';

const WARN_DAYS = 45;
const DAY_MS = 86400000;

/** What to say of the shop's certificate, or null while it lasts long enough. */
export function certificateWords(expires, now = Date.now()) {
  const days = Math.floor((Date.parse(expires) - now) / DAY_MS);
  // A shop without a certificate, such as a demo, names no day.
  if (!(days < WARN_DAYS)) return null;
  if (days < 0) {
    return 'The shop\u2019s certificate has expired. Until it is renewed, this phone cannot ' +
      'send. Tell the lead.';
  }
  const left = days === 1 ? '1 day' : `${days} days`;
  return `The shop\u2019s certificate expires in ${left} and was not renewed. ` +
    'Tell the lead: after that this phone cannot send.';
}

/** Where the shop lives when it is not where this app was opened, or null. */
export function movedWords(address, here = location.origin) {
  if (!address || address === here) return null;
  return `The shop is now at ${address}. Let this app send everything first; then ` +
    'open that address and pair there.';
}

/** Paragraphs about the connection, for the screen of what this phone holds. */
export function connectionParts(facts, trouble) {
  const says = [certificateWords(facts.cert_expires), movedWords(facts.address)].filter(Boolean);
  return [
    says.map((each) => h('p', { class: 'notice', role: 'status' }, each)),
    // A page that is asked for outright shows the browser's own word about the certificate.
    trouble === 'unreachable' && h('p', {}, h('a', { href: '/door' }, 'Check the connection')),
    h(
      'p',
      {},
      h('a', { href: '/app#/join' }, facts.person ? 'Pair this phone again' : 'Pair this phone'),
    ),
  ];
}
