/** Measuring arrows and sides, as every picture of what to measure draws them. */

import {line, s} from '../dom.js';

/** A double-headed arrow, level or upright. */
export function arrow(x1, y1, x2, y2, kind) {
  const level = y1 === y2;
  const head = (x, y, tip) => s('path', {class: `scribe-fill ${kind}`, d: level ? `M${x} ${y}l${tip * 8} -5v10z` : `M${x} ${y}l-5 ${tip * 8}h10z`});
  const tip = level ? Math.sign(x2 - x1) : Math.sign(y2 - y1);
  return [line(x1, y1, x2, y2, `scribe-line ${kind}`), head(x1, y1, tip), head(x2, y2, -tip)];
}

/** On which half of a drawing a side lies: `left` is on the left unless flipped. */
export function across(side, flip) {
  return (side === 'left') === !flip ? -1 : 1;
}
