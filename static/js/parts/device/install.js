/**
 * Putting the app on the home screen: offered once where the browser can, explained where it must
 * be.
 */

import { h, line, s } from '../../dom.js';

/**
 * Whether this is a browser's tab on an iPhone or iPad. What is kept in one is never seen by the
 * app on the home screen, and goes by itself after a week without use.
 */
export function inIosTab() {
  const { userAgent, platform, maxTouchPoints, standalone } = navigator;
  const ios = /iPhone|iPad|iPod/.test(userAgent) || (platform === 'MacIntel' && maxTouchPoints > 1);
  return ios && !standalone && !matchMedia('(display-mode: standalone)').matches;
}

/** Why nothing is kept in such a tab. */
export const TAB_SAYS =
  'A browser tab on this phone cannot save anything: the app on the home screen never sees it, ' +
  'and the phone deletes it after a week.';

/** The browser's own offer to install, held back until a reading was kept and the job was left. */
export class Install {
  #app;
  #offer = null;
  #earned = false;

  constructor(app) {
    this.#app = app;
    addEventListener('beforeinstallprompt', (event) => {
      event.preventDefault();
      this.#offer = event;
    });
  }

  /** Notes that entries were kept; a reading among them earns the offer. */
  kept(entries) {
    this.#earned ||= entries.some(({ kind }) => kind === 'reading');
  }

  /** Shows the offer above a screen outside any job, once in the life of this phone's store. */
  async consider(at) {
    if (
      !this.#offer || !this.#earned || at.startsWith('#/job/') || this.#app.bands.children.length ||
      this.#app.alarms.children.length
    ) return;
    this.#earned = false;
    if (await this.#app.store.fact('install_asked')) return;
    await this.#app.store.setFact('install_asked', true);
    this.#app.bands.append(this.#band());
  }

  #band() {
    const accept = () => {
      band.remove();
      this.#offer.prompt();
    };
    const band = h(
      'div',
      { class: 'notice', role: 'status' },
      h(
        'p',
        {},
        'Add Axlewright to the home screen: it opens like an app, and the phone keeps ' +
          'its data more safely.',
      ),
      h(
        'div',
        { class: 'row-buttons' },
        h('button', { type: 'button', onclick: () => band.remove() }, 'Not now'),
        h('button', { type: 'button', class: 'main', onclick: accept }, 'Add'),
      ),
    );
    return band;
  }
}

// The bar of a browser with its square and arrow, the line of the list, the icon on the home
// screen.
function picture() {
  const share = [
    s('path', { d: 'M30 46h-8v34h36V46h-8', class: 'line' }),
    line(40, 66, 40, 30, 'scribe-line'),
    s('path', { d: 'M31 38l9 -10l9 10', class: 'scribe-line' }),
  ];
  const add = [
    s('rect', { x: 112, y: 40, width: 92, height: 28, class: 'shape' }),
    s('rect', { x: 182, y: 46, width: 16, height: 16, class: 'line' }),
    line(190, 49, 190, 59, 'scribe-line'),
    line(185, 54, 195, 54, 'scribe-line'),
    line(120, 54, 168, 54, 'line'),
  ];
  const home = [
    s('rect', { x: 252, y: 20, width: 56, height: 76, class: 'shape' }),
    s('rect', { x: 271, y: 36, width: 18, height: 18, class: 'shape lit' }),
    s('circle', { cx: 280, cy: 45, r: 4, class: 'bolt' }),
    line(262, 86, 298, 86, 'line'),
  ];
  const then = (x) => s('path', { d: `M${x} 54h16m-6 -6l6 6l-6 6`, class: 'fine' });
  const drawn = s(
    'svg',
    { viewBox: '0 0 328 112', class: 'fig', 'aria-hidden': 'true' },
    share,
    then(78),
    add,
    then(220),
    home,
  );
  return drawn;
}

/** What to do before this phone takes anything in; `code` is a tag to be typed then. */
export function setUpHelp(code) {
  return inIosTab() ? installHelp(code) : h(
    'section',
    { class: 'install box' },
    h('h2', {}, 'Set up this phone first'),
    h(
      'ol',
      {},
      h(
        'li',
        {},
        'Make it trust the shop: the lead can show you the code for that at the desk, ' +
          'under People.',
      ),
      h('li', {}, 'Open Axlewright in Chrome or Safari, not in a private window.'),
      h('li', {}, 'Reload it while it can reach the shop.'),
    ),
    h(
      'button',
      { type: 'button', class: 'main', onclick: () => location.reload() },
      'Reload',
    ),
  );
}

/**
 * How to put the app on the home screen of an iPhone or iPad; `code` is a tag to be typed there.
 */
export function installHelp(code = null) {
  return h(
    'section',
    { class: 'install box' },
    h('h2', {}, 'Add Axlewright to the home screen first'),
    picture(),
    h(
      'ol',
      {},
      h('li', {}, 'Tap Share, the square with an arrow pointing up.'),
      h('li', {}, 'Choose ', h('b', {}, 'Add to Home Screen'), ', then ', h('b', {}, 'Add'), '.'),
      h('li', {}, 'Open Axlewright from its icon, and pair this phone there.'),
      code && h('li', {}, 'There, type the tag code ', h('b', { class: 'nowrap' }, code), '.'),
    ),
    h('p', {}, TAB_SAYS),
  );
}
