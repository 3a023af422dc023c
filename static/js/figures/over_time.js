/**
 * A value over time: one dot a round with its whiskers, left to right, changes as marks, a band
 * where there is a limit.
 */

import { drawing, line, round, s, words } from '../dom.js';
import { stepFor } from './curve.js';

const WIDTH = 680;
const HEIGHT = 190;
const ROOM = { left: 50, right: 12, top: 22, bottom: 36 };
const NEAR = 66;

// Above and below the dots there is at least this much room, so that scatter alone fills no
// drawing.
const LEAST_ROOM = { mm: 1, in: 0.04 };

function reach(points, band, unit) {
  const values = points.flatMap(({ value, expanded = 0 }) => [value - expanded, value + expanded])
    .concat(band ?? []);
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const room = Math.max((high - low) * 0.12, LEAST_ROOM[unit]);
  return [low - room, high + room];
}

function scales(points, band, unit) {
  const [low, high] = reach(points, band, unit);
  const days = points.map(({ day }) => day);
  const [first, last] = [Math.min(...days), Math.max(...days)];
  const wide = WIDTH - ROOM.left - ROOM.right - 20;
  return {
    low,
    high,
    x: (day) =>
      ROOM.left + 10 + (last > first ? ((day - first) / (last - first)) * wide : wide / 2),
    y: (value) => ROOM.top + ((high - value) / (high - low)) * (HEIGHT - ROOM.top - ROOM.bottom),
  };
}

function bandOf(band, { y }) {
  if (!band) return null;
  const [low, high] = band;
  return [
    s('rect', {
      x: ROOM.left,
      y: round(y(high)),
      width: WIDTH - ROOM.left - ROOM.right,
      height: round(y(low) - y(high)),
      class: 'band',
    }),
    line(ROOM.left, y(high), WIDTH - ROOM.right, y(high), 'limit'),
    line(ROOM.left, y(low), WIDTH - ROOM.right, y(low), 'limit'),
  ];
}

function mark(point, { x, y }, kind) {
  const { day, value, expanded = 0, color = 'no_verdict' } = point;
  const [at, top, low] = [x(day), y(value + expanded), y(value - expanded)];
  const whiskers = expanded > 0 &&
    [
      line(at, top, at, low, 'whisker'),
      line(at - 4, top, at + 4, top, 'whisker'),
      line(at - 4, low, at + 4, low, 'whisker'),
    ];
  const shape = kind === 'right'
    ? s('rect', {
      x: round(at - 4.5),
      y: round(y(value) - 4.5),
      width: 9,
      height: 9,
      class: 'open-dot',
    })
    : s('circle', { cx: round(at), cy: round(y(value)), r: 5, class: 'dot' });
  return s('g', { class: `is-${color}` }, whiskers, shape);
}

function dates(points, { x }) {
  let last = -Infinity;
  return points.map(({ day, at }) => {
    if (x(day) - last < NEAR * 1.7) return null;
    last = x(day);
    return words(Math.min(x(day), WIDTH - 60), HEIGHT - 6, at, '', 'middle');
  });
}

function changeMark({ day, says }, { x }) {
  return s(
    'g',
    {},
    s('title', {}, says),
    line(x(day), ROOM.top, x(day), HEIGHT - ROOM.bottom, 'dots'),
    s('path', {
      d: `M${round(x(day) - 5)} ${HEIGHT - ROOM.bottom + 10}l5 -9l5 9z`,
      class: 'change-mark',
    }),
  );
}

/** Round values between the lowest and the highest. */
function ticksOf({ low, high }) {
  const step = stepFor(high - low, 4);
  const first = Math.ceil(low / step);
  return Array.from(
    { length: Math.floor(high / step) - first + 1 },
    (_, index) => (first + index) * step,
  );
}

/**
 * The figure of {series: [{kind, points: [{day, at, value, expanded, color}]}],
 * changes: [{day, says}], band, unit, says}.
 *
 * `kind` right is drawn square, anything else round; days are numbers, lengths are in `unit`, mm or
 * in.
 */
export function draw({ series, changes = [], band = null, unit, says }) {
  const points = series.flatMap((each) => each.points);
  const scale = scales(
    [...points, ...changes.map(({ day }) => ({ day, value: points[0].value }))],
    band,
    unit,
  );
  const ticks = ticksOf(scale);
  return drawing(
    WIDTH,
    HEIGHT,
    says,
    bandOf(band, scale),
    ticks.map((
      value,
    ) => [
      line(ROOM.left, scale.y(value), WIDTH - ROOM.right, scale.y(value), 'grid'),
      words(ROOM.left - 5, scale.y(value) + 4, `${round(value)}`.replace('-', '\u2212'), '', 'end'),
    ]),
    words(ROOM.left, 1, unit, '', 'start', true),
    changes.map((each) => changeMark(each, scale)),
    series.map(({ kind, points: each }) => each.map((point) => mark(point, scale, kind))),
    dates(points, scale),
  );
}
