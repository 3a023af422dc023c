/** The desk's pages: draws the figures that they hold, and offers to print. Everything else works without. */

import * as across from './figures/across.js';
import * as history from './figures/history.js';
import * as interval from './figures/interval.js';

const FIGURES = {across, history, interval};

function drawInto(figure) {
  const module = FIGURES[figure.dataset.figure];
  const data = JSON.parse(figure.dataset.data);
  const options = {small: 'small' in figure.dataset};
  figure.replaceChildren(module.draw(data, options));
  const heading = figure.parentElement.querySelector('[data-caption]');
  if (heading && module.caption) heading.textContent = module.caption(data, options);
}

for (const figure of document.querySelectorAll('[data-figure]')) drawInto(figure);

for (const button of document.querySelectorAll('[data-print]')) {
  button.hidden = false;
  button.addEventListener('click', () => window.print());
}
