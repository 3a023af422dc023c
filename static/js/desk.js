/**
 * The desk's pages: figures, keys, the list that renews itself, and printing. Everything else works
 * without.
 */

import { drawFigures } from './desk/figures.js';
import { startKeys } from './desk/keys.js';
import { startLive } from './desk/live.js';

drawFigures(document);

for (const button of document.querySelectorAll('[data-print]')) {
  button.hidden = false;
  button.addEventListener('click', () => window.print());
}

startKeys();

const list = document.querySelector('[data-live]');
if (list) startLive(list);
