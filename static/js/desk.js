/**
 * The desk's pages: figures, keys, the list that renews itself, limits in the chosen units, and
 * printing. Everything else works without.
 */

import { drawFigures } from './desk/figures.js';
import { startKeys } from './desk/keys.js';
import { startLive } from './desk/live.js';
import './desk/passkeys.js';
import { startUsualLimits } from './desk/usual_limits.js';

drawFigures(document);

/** @type {NodeListOf<HTMLElement>} */
const printButtons = document.querySelectorAll('[data-print]');
for (const button of printButtons) {
  button.hidden = false;
  button.addEventListener('click', () => window.print());
}

startKeys();
startUsualLimits(document);

const list = document.querySelector('[data-live]');
if (list) startLive(list);
