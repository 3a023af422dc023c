/**
 * Measuring arrows, sides and the ends of a link, as every picture of what to measure draws them.
 */

import { line, s, words } from '../dom.js';

const MIDDLE = 164;

/** A double-headed arrow, level or upright. */
export function arrow(x1, y1, x2, y2, kind = '') {
  const level = y1 === y2;
  const head = (x, y, tip) =>
    s('path', {
      class: `scribe-fill ${kind}`,
      d: level ? `M${x} ${y}l${tip * 8} -5v10z` : `M${x} ${y}l-5 ${tip * 8}h10z`,
    });
  const tip = level ? Math.sign(x2 - x1) : Math.sign(y2 - y1);
  return [line(x1, y1, x2, y2, `scribe-line ${kind}`), head(x1, y1, tip), head(x2, y2, -tip)];
}

/** On which half of a drawing a side lies: `left` is on the left unless flipped. */
export function across(side, flip) {
  return (side === 'left') === !flip ? -1 : 1;
}

/** A bolt seen along its axis. @param {number[]} at */
export const bolt = ([x, y]) => s('circle', { cx: x, cy: y, r: 6, class: 'bolt' });
/** A ball of a joint. @param {number[]} at */
export const ball = (
  [x, y],
) => [
  s('circle', { cx: x, cy: y, r: 7, class: 'shape' }),
  s('circle', { cx: x, cy: y, r: 2.5, class: 'bolt' }),
];

/** A text at the edge of the drawing, on the half `way`. */
export function atEdge(way, y, text, kind = '') {
  return words(MIDDLE + way * 162, y, text, kind, way > 0 ? 'end' : 'start');
}

/** What an upward picture says of how it is seen. */
export function up() {
  return words(MIDDLE, 2, 'from above, front is up', '', 'middle', true);
}

/**
 * A link from behind with what is measured of it; `joint` draws its ends, and `more(from, to, way)`
 * has further marks.
 *
 * @param {any} drawn
 * @param {(at: number[]) => any} joint
 * @param {string} along
 * @param {(from: number[], to: number[], way: number) => any} more
 */
export function fromBehind(
  { field, frame_end: frameEnd = 'left', flip },
  joint,
  along,
  more = () => ({}),
) {
  const way = across(frameEnd, flip);
  const [from, to] = [[MIDDLE + way * 92, 32], [MIDDLE - way * 84, 66]];
  const height = (
    /** @type {number[]} */ [x, y],
    out,
  ) => [arrow(x + out * 22, y, x + out * 22, 106), line(x, y, x + out * 30, y, 'dots')];
  const marks = {
    length: [
      line(from[0], from[1] + 14, to[0], to[1] + 14, 'scribe-line'),
      words(MIDDLE + way * 16, 86, along, 'lit', 'middle'),
    ],
    frame_height: height(from, way),
    axle_height: height(to, -way),
    ...more(from, to, way),
  };
  return [
    line(20, 106, 308, 106, 'fine'),
    line(from[0], from[1], to[0], to[1], 'bar'),
    joint(from),
    joint(to),
    field !== 'rail_height' && atEdge(way, 18, 'frame end'),
    atEdge(-way, 52, 'axle end'),
    marks[field] ?? [],
  ];
}

/** A link from above, with how far its ends differ fore and aft. */
export function foreAft({ frame_end: frameEnd = 'left', flip }, joint) {
  const way = across(frameEnd, flip);
  const [from, to] = [[MIDDLE + way * 88, 90], [MIDDLE - way * 80, 54]];
  return [
    up(),
    line(from[0], from[1], to[0], to[1], 'bar'),
    line(from[0], from[1], to[0] - way * 22, from[1], 'dots'),
    arrow(to[0] - way * 18, to[1], to[0] - way * 18, from[1]),
    joint(from),
    joint(to),
    atEdge(way, 76, 'frame end'),
    atEdge(-way, 42, 'axle end'),
  ];
}
