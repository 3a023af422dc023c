/**
 * The history of a vehicle's offset: one interval a line below its words, the newest first, on one
 * scale.
 */

import { corners, drawing, line, round, s, words } from '../dom.js';
import { terms } from '../reckon.js';

const WIDTH = 328;
const ROW = 50;
const TOP = 22;

function scaleFor(points, flip) {
  const reach = Math.max(
    ...points.map(({ offset, expanded, limit }) =>
      Math.max(Math.abs(offset) + expanded, limit * 1.4)
    ),
  ) * 1.05;
  return (mm) => WIDTH / 2 + (flip ? 1 : -1) * mm * (WIDTH / 2 - 8) / reach;
}

function row(point, index, x) {
  const y = TOP + ROW * index + 36;
  const { offset, expanded, limit, state, held, label, at } = point;
  const edge = held ? 'limit-held' : 'limit';
  const [a, b] = [x(offset - expanded), x(offset + expanded)];
  const [low, high] = [x(limit), x(-limit)].sort((m, n) => m - n);
  return [
    words(0, y - 32, `${at}, ${label}`, '', 'start', true),
    s('rect', {
      x: round(low),
      y: y - 9,
      width: round(high - low),
      height: 18,
      class: held ? 'mass' : 'band',
    }),
    line(low, y - 12, low, y + 12, edge),
    line(high, y - 12, high, y + 12, edge),
    s(
      'g',
      { class: `is-${terms.verdict_color(state, held)}` },
      line(a, y, b, y, 'whisker'),
      line(a, y - 6, a, y + 6, 'whisker'),
      line(b, y - 6, b, y + 6, 'whisker'),
      s('circle', { cx: round(x(offset)), cy: y, r: 5.5, class: 'dot' }),
    ),
  ];
}

function spoken(points) {
  return points.map(({ at, label, offset, state, held, unit }) =>
    `${at}, ${label}: ${terms.toward(offset, unit)}, ${terms.verdict_said(state, held)}`
  ).join('; ');
}

/** The figure of `points`, each {offset, expanded, limit, state, label, at} in mm with its
 * vehicle's `unit`, newest first. */
export function draw({ points }, { flip = false } = {}) {
  const height = TOP + ROW * points.length + 6;
  const x = scaleFor(points, flip);
  return drawing(
    WIDTH,
    height,
    spoken(points),
    corners(WIDTH, flip),
    line(x(0), TOP - 6, x(0), height, 'dots'),
    points.map((point, index) => row(point, index, x)),
  );
}
