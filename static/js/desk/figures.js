/** The figures that a page holds as data: drawn by the phone's own modules. */

import * as axleView from '../figures/axle_view.js';
import * as curve from '../figures/curve.js';
import * as history from '../figures/history.js';
import * as interval from '../figures/interval.js';
import * as over from '../figures/over_time.js';

const FIGURES = { axle_view: axleView, curve, history, interval, over };

function drawInto(figure) {
  const module = FIGURES[figure.dataset.figure];
  const data = JSON.parse(figure.dataset.data);
  const options = { small: 'small' in figure.dataset };
  figure.replaceChildren(module.draw(data, options));
  const heading = figure.parentElement.querySelector('[data-caption]');
  if (heading && module.caption) heading.textContent = module.caption(data, options);
}

/** Draws every figure under an element. */
export function drawFigures(root) {
  for (const figure of root.querySelectorAll('[data-figure]')) drawInto(figure);
}
