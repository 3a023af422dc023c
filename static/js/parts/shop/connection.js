/**
 * What the connection to the shop needs of a person: its certificate ends, it moved, it is not to
 * be verified.
 */

import { h } from '../../dom.js';
import { age, notice } from '../frame.js';

const WARN_DAYS = 45;
const PARTED_DAYS = 7;
const DAY_MS = 86400000;
// Less of a difference puts no entry on a wrong day or in a wrong order.
const CLOCK_OFF_MS = 600000;

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

/** What to say where this phone's clock is far from the shop's, or null. */
export function clockWords(ahead) {
  if (!(Math.abs(ahead) > CLOCK_OFF_MS)) return null;
  const by = age(new Date(0).toISOString(), Math.abs(ahead));
  return `This phone\u2019s clock is ${by} ${ahead > 0 ? 'ahead of' : 'behind'} the shop\u2019s. ` +
    'Set it: every entry carries its time.';
}

/** Where the shop lives when it is not where this app was opened, or null. */
export function movedWords(address, here = location.origin) {
  if (!address || address === here) return null;
  return `The shop is now at ${address}. Let this app send everything first; then ` +
    'open that address and pair there.';
}

/** What to say where the shop's log was lately not the one that this phone knew, or null. */
export function partedWords(at, now = Date.now()) {
  if (!at || now - Date.parse(at) > PARTED_DAYS * DAY_MS) return null;
  const when = new Date(at).toLocaleString();
  return `The shop\u2019s log on ${when} was not the one this phone knew. ` +
    'Two copies of it may be in use, on two computers. This phone sent everything it has again. ' +
    'Tell the lead.';
}

/** Shows, until somebody closes it or the clock is right, that this phone's clock is not. */
export async function tellClock(app) {
  const says = clockWords((await app.store.facts()).clock_ahead_ms);
  if (!says) {
    app.clockBand?.remove();
    app.clockBand = null;
  }
  if (!says || app.clockBand) return;
  app.clockBand = notice(says, 'OK', () => app.clockBand.remove());
  app.bands.append(app.clockBand);
}

/** Shows, once each time, that the shop's log was not the one that this phone knew. */
export async function tellParted(app) {
  const { parted_at: at = null, parted_told: told = null } = await app.store.facts();
  const says = partedWords(at);
  if (says === null || at === told) return;
  await app.store.setFact('parted_told', at);
  const band = notice(says, 'OK', () => band.remove());
  app.bands.append(band);
}

/** Paragraphs about the connection, for the screen of what this phone holds. */
export function connectionParts(facts, trouble) {
  const says = [
    certificateWords(facts.cert_expires),
    clockWords(facts.clock_ahead_ms),
    movedWords(facts.address),
    partedWords(facts.parted_at),
  ].filter(Boolean);
  return [
    says.map((each) => h('p', { class: 'notice', role: 'status' }, each)),
    // A page that is asked for outright shows the browser's own word about the certificate.
    trouble === 'unreachable' && h('p', {}, h('a', { href: '/door' }, 'Check the connection')),
    h(
      'p',
      {},
      h('a', { href: '/app#/pair' }, facts.person ? 'Pair this phone again' : 'Pair this phone'),
    ),
  ];
}
