/**
 * The path of something through the travel, as seen from behind: up is bump, left is left.
 * Today's path stands behind a plan's; the place of the travel in hand is marked.
 */

import { corners, drawing, line, round, s, words } from '../dom.js';
import { length_grammar as grammar } from '../reckon.js';

const WIDTH = 328;
const HEIGHT = 204;
const ROOM = { left: 54, right: 20, top: 30, bottom: 40 };

/** A round number that leaves at most `most` steps in `reach`. */
export function stepFor(reach, most) {
  const rough = reach / most;
  const power = 10 ** Math.floor(Math.log10(rough));
  return [1, 2, 5, 10].map((times) => times * power).find((step) => step >= rough);
}

function scales(curves, flip) {
  const points = curves.flatMap(({ points: each }) => each);
  const reach = Math.max(...points.map(([, value]) => Math.abs(value)), 0.1) * 1.15;
  const travels = points.map(([travel]) => travel);
  const [low, high] = [Math.min(...travels, 0), Math.max(...travels, 1)];
  const wide = WIDTH - ROOM.left - ROOM.right;
  const tall = HEIGHT - ROOM.top - ROOM.bottom;
  return {
    reach,
    low,
    high,
    x: (value) => ROOM.left + wide / 2 + (flip ? 1 : -1) * value * (wide / 2 / reach),
    y: (travel) => ROOM.top + tall * (high - travel) / (high - low || 1),
  };
}

function grid({ x, y, reach, low, high }, unit, units) {
  const per = units === 'in' ? grammar.INCH : 1;
  const along = unit === 'mm' ? per : 1;
  const step = stepFor(reach / along, 2.5) * along;
  const values = [];
  for (let value = step; value <= reach; value += step) values.push(-value, value);
  const short = (size, digits = 3) => String(Number(Math.abs(size).toPrecision(digits)));
  const end = (travel) => short(travel / per, units === 'in' ? 2 : 3);
  return [
    line(x(0), ROOM.top - 6, x(0), HEIGHT - ROOM.bottom + 8, 'axis'),
    line(ROOM.left, y(0), WIDTH - ROOM.right, y(0), 'fine'),
    values.flatMap((
      value,
    ) => [
      line(x(value), y(0) - 4, x(value), y(0) + 4, 'fine'),
      words(x(value), HEIGHT - 6, short(value / along), '', 'middle'),
    ]),
    words(x(0), HEIGHT - 6, along > 1 ? units : unit, '', 'middle'),
    words(2, y(high) + 4, `+${end(high)}`),
    words(2, y(0) + 4, 'ride'),
    words(2, y(low) + 4, `\u2212${end(low)}`),
  ];
}

function path({ points, kind }, { x, y }) {
  const d = points.map(([travel, value], index) =>
    `${index ? 'L' : 'M'}${round(x(value))} ${round(y(travel))}`
  ).join('');
  return s('path', { d, class: kind });
}

/** The curve's value at a travel, between its points. */
function valueAt(points, travel) {
  const after = points.findIndex(([each]) => each >= travel);
  if (after < 0) return points.at(-1)?.[1] ?? null;
  if (after === 0) return points[0][1];
  const [[t0, v0], [t1, v1]] = [points[after - 1], points[after]];
  return v0 + ((v1 - v0) * (travel - t0)) / (t1 - t0);
}

function marks(curves, at, scale) {
  return curves.filter(({ points }) => points.length).map(({ points, kind }) =>
    s('circle', {
      cx: round(scale.x(valueAt(points, at))),
      cy: round(scale.y(at)),
      r: 6,
      class: kind === 'bar-then' ? 'open-dot is-no_verdict' : 'bolt',
    })
  );
}

/**
 * The figure of `curves`, each {points: [[travel mm, value]], kind}, marked at the travel `at`;
 * lengths are named in `units`.
 */
export function draw({ curves, unit, units = 'mm', at = 0, says }, { flip = false } = {}) {
  const scale = scales(curves, flip);
  return drawing(
    WIDTH,
    HEIGHT,
    says,
    corners(WIDTH, flip, ROOM.left),
    grid(scale, unit, units),
    curves.map((curve) => path(curve, scale)),
    marks(curves, at, scale),
  );
}
