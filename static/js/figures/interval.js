/**
 * The interval figure: a decided number with its whiskers against the band of its limit.
 * Left is drawn on the left, as seated in the vehicle.
 */

import {drawing, line, lines, round, s, words} from '../dom.js';
import {words as terms} from '../reckon.js';

const WIDTH = 328;

/** Where an offset in mm stands across the figure. */
function scaleFor({offset, expanded, limit, after}, flip, margin) {
  const reach = Math.max(limit * 1.7, Math.abs(offset) + expanded, Math.abs(after ?? 0)) * 1.06;
  const sign = flip ? 1 : -1;
  return (mm) => WIDTH / 2 + sign * mm * ((WIDTH / 2 - margin) / reach);
}

function band(x, limit, top, height) {
  const [a, b] = [x(limit), x(-limit)].sort((m, n) => m - n);
  return [
    s('rect', {x: round(a), y: top, width: round(b - a), height, class: 'band'}),
    lines([[a, top - 5, a, top + height + 5], [b, top - 5, b, top + height + 5]], 'limit'),
    line(WIDTH / 2, top - 7, WIDTH / 2, top + height + 7, 'dots'),
  ];
}

function mark(x, {offset, expanded, state}, y, size) {
  const [a, b] = [x(offset - expanded), x(offset + expanded)];
  const judged = ['inside', 'outside', 'too_close'].includes(state);
  return s('g', {class: `is-${state}`},
    lines([[a, y, b, y], [a, y - size, a, y + size], [b, y - size, b, y + size]], 'whisker'),
    s('circle', {cx: round(x(offset)), cy: y, r: size * 0.8, class: judged ? 'dot' : 'open-dot'}));
}

function cross(x, after, y) {
  const at = x(after);
  return s('path', {d: `M${round(at - 5)} ${y - 5}l10 10m0-10l-10 10`, class: 'after'});
}

function sideWords(flip) {
  const [first, last] = flip ? ['right', 'left'] : ['left', 'right'];
  return [words(4, 12, first), words(WIDTH - 4, 12, last, '', 'end')];
}

function clamp(value, low, high) {
  return Math.max(low, Math.min(high, value));
}

function spoken({offset, expanded, limit, state, after}) {
  const now = `${terms.toward(offset, 'mm')}, plus or minus ${expanded.toFixed(1)} mm, limit ${limit} mm each way: ${terms.VERDICTS[state]}`;
  return after === null || after === undefined ? now : `${now}. After the change ${terms.toward(after, 'mm')}`;
}

/**
 * The figure of {offset, expanded, limit, state, after} in mm; small, it is one line of a list.
 */
export function draw(data, {small = false, flip = false} = {}) {
  const {limit, state, after = null, offset} = data;
  if (small) {
    const x = scaleFor(data, flip, 8);
    return drawing(WIDTH, 30, spoken(data), ...band(x, limit, 8, 14), mark(x, data, 15, 7));
  }
  const x = scaleFor(data, flip, 14);
  const [a, b] = [x(limit), x(-limit)].sort((m, n) => m - n);
  const under = clamp(x(offset), 44, WIDTH - 44);
  const clear = (at, room) => Math.abs(at - under) > room;
  return drawing(WIDTH, 78, spoken(data), sideWords(flip), band(x, limit, 22, 26),
    clear(a, 56) ? words(a, 68, `${limit}`, '', 'middle') : null,
    clear(b, 56) ? words(b, 68, `${limit}`, '', 'middle') : null,
    after !== null && [cross(x, after, 35), clear(x(after), 64) && clear(x(after) , 0) ? words(x(after), 68, 'after', '', 'middle') : null],
    mark(x, data, 35, 8),
    s('g', {class: `is-${state}`}, words(under, 70, terms.VERDICTS[state], 'verdict', 'middle')));
}

/** What the figure needs from findings, or null where there is no offset. */
export function fromFindings(findings) {
  const found = findings?.centring;
  if (!found || found.offset === undefined || found.offset === null) return null;
  const advised = ['outside', 'too_close'].includes(found.state) && found.sum_state !== 'differs';
  const turn = advised ? findings.bar_change?.leftover : null;
  return {offset: found.offset, expanded: found.expanded, limit: found.limit, state: found.state, after: turn ?? null};
}
