/** What leans: plumb lines over a floor that is not level, and a frame over its axle. */

import { across, arrow } from './arrow.js';
import { corners, line, s, tallPicture, words } from '../dom.js';

const MIDDLE = 164;
const FLOOR = 140;
const TILT = Math.atan(0.13);

/** A point of something that was turned by an angle about the middle of the floor. */
function turned([x, y], angle) {
  const [out, up] = [x - MIDDLE, y - FLOOR];
  return [
    MIDDLE + out * Math.cos(angle) - up * Math.sin(angle),
    FLOOR + out * Math.sin(angle) + up * Math.cos(angle),
  ];
}

function box(x, y, width, height, kind) {
  return s('rect', { x: x - width / 2, y, width, height, class: kind });
}

/** Two lines of text, one below the other. */
function twoLines(x, y, [first, second], anchor) {
  return [words(x, y, first, 'lit', anchor), words(x, y + 15, second, 'lit', anchor)];
}

/**
 * The two plumb lines of each side: the floor tilts vehicle and all, the lines hang straight down,
 * and the one from the higher point leans further out of square to the low side.
 *
 * @param {{high_side?: 'left' | 'right' | null, flip?: boolean}} drawn
 */
export function plumb({ high_side: high, flip = false }) {
  const low = high ? -across(high, flip) : -1;
  const angle = low * TILT;
  const floorAt = (x) => FLOOR + (x - MIDDLE) * Math.tan(angle);
  const hung = (way, out, up) => {
    const [x, y] = turned([MIDDLE + way * out, up], angle);
    const [square, foot] = turned([MIDDLE + way * out, FLOOR], angle);
    return [
      line(x, y, square, foot, 'dots'),
      line(x, y, x, floorAt(x), 'line'),
      line(x, floorAt(x), square, foot, 'scribe-line'),
    ];
  };
  const [railX, railY] = turned([MIDDLE + low * 40, 44], angle);
  const [faceX, faceY] = turned([MIDDLE + low * 84, 96], angle);
  const [highX] = turned([MIDDLE - low * 40, FLOOR], angle);
  const [inner, outer] = [railX - low * 12, faceX + low * 14];
  const end = MIDDLE - low * 154;
  return tallPicture(
    184,
    s(
      'g',
      { transform: `rotate(${angle * 180 / Math.PI} ${MIDDLE} ${FLOOR})` },
      line(10, FLOOR, 318, FLOOR),
      box(MIDDLE, 80, 168, 12, 'mass'),
      [-1, 1].map((way) => [
        box(MIDDLE + way * 40, 20, 20, 24, 'shape'),
        box(MIDDLE + way * 78, 70, 12, 26, 'shape'),
      ]),
    ),
    line(10, floorAt(MIDDLE + low * 154), 318, floorAt(MIDDLE + low * 154), 'dots'),
    [-1, 1].map((way) => [hung(way, 40, 44), hung(way, 84, 96)]),
    arrow(inner, railY, inner, floorAt(inner)),
    twoLines(inner - low * 7, 112, ["rail's", 'point'], low < 0 ? 'start' : 'end'),
    arrow(outer, faceY, outer, floorAt(outer)),
    twoLines(outer + low * 7, 116, ["face's", 'point'], low < 0 ? 'end' : 'start'),
    words(end, floorAt(MIDDLE + low * 154) - 6, 'tilt', 'lit', low < 0 ? 'end' : 'start'),
    words(highX, floorAt(highX) + 18, 'leans', 'lit', 'middle'),
    corners(328, flip),
  );
}

/**
 * A frame that stands higher over one end of its axle; `left` and `right` are its heights in words,
 * `higher` the higher side, `known` the side on which it is known to stand higher.
 *
 * @param {{left: string, right: string, higher: string, known: string | null,
 *   flip?: boolean}} drawn
 */
export function lean({ left, right, higher, known, flip = false }) {
  const up = higher === 'neither' ? 0 : across(higher, flip);
  const railAt = (way) => 58 - way * up * 12;
  const usualAt = (way) => 58 - way * (known ? across(known, flip) : 0) * 5;
  const side = (name, text) => {
    const way = across(name, flip);
    const x = MIDDLE + way * 88;
    const rail = railAt(way);
    return [
      box(x, rail - 24, 26, 24, 'shape'),
      arrow(x, rail + 2, x, 104),
      words(x, 152, text, 'lit', 'middle'),
    ];
  };
  return tallPicture(
    158,
    box(MIDDLE, 106, 236, 12, 'mass'),
    s('circle', { cx: MIDDLE, cy: 112, r: 15, class: 'mass' }),
    [-1, 1].map((way) => box(MIDDLE + way * 128, 88, 20, 46, 'line')),
    line(MIDDLE - 75, railAt(-1) - 12, MIDDLE + 75, railAt(1) - 12),
    known && [
      line(MIDDLE - 124, usualAt(-1), MIDDLE + 124, usualAt(1), 'dots'),
      words(MIDDLE + 160, usualAt(1) + 4, 'known', '', 'end'),
    ],
    side('left', left),
    side('right', right),
    corners(328, flip),
  );
}
