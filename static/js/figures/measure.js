/** A short picture of what to measure, from where to where, with the side in hand lit. */

import { across, arrow, bolt, foreAft, fromBehind } from './arrow.js';
import { dragLink } from './measure_link.js';
import { line, lines, picture, s, words } from '../dom.js';

function sideWord(x, y, side, lit) {
  return words(x, y, side, lit ? 'lit' : '', 'middle');
}

const FACE_AT = { hub: 122, rotor: 116, knuckle: 110, tire: 128 };

function centering({ side, face = 'rotor', method, flip }) {
  const faceAt = FACE_AT[face];
  const both = ['left', 'right'].map((each) => {
    const way = across(each, flip);
    const lit = each === side;
    const [rail, end] = [164 + way * 78, 164 + way * faceAt];
    return [
      s('rect', { x: 164 + way * 66 - 12, y: 14, width: 24, height: 40, class: 'shape' }),
      s('rect', {
        x: 164 + way * (faceAt + 9) - 7,
        y: 42,
        width: 14,
        height: 58,
        class: lit ? 'shape lit' : 'shape',
      }),
      method === 'plumb_bob'
        ? [line(rail, 54, rail, 106, 'dots'), line(end + way * 2, 90, end + way * 2, 106, 'dots')]
        : line(rail, 30, rail, 62, 'dots'),
      arrow(
        rail,
        method === 'plumb_bob' ? 104 : 48,
        end + way * 2,
        method === 'plumb_bob' ? 104 : 48,
        lit ? '' : 'faint',
      ),
      sideWord((rail + end) / 2 + way * 10, 30, each, lit),
    ];
  });
  return [
    s('rect', { x: 40, y: 66, width: 248, height: 14, class: 'mass' }),
    s('circle', { cx: 164, cy: 73, r: 18, class: 'mass' }),
    both,
  ];
}

function heights({ side, flip }) {
  const both = ['left', 'right'].map((each) => {
    const way = across(each, flip);
    const lit = each === side;
    const x = 164 + way * 78;
    return [
      s('rect', { x: x - 14, y: 8, width: 28, height: 30, class: lit ? 'shape lit' : 'shape' }),
      arrow(x, 40, x, 76, lit ? '' : 'faint'),
      sideWord(164 + way * 110, 62, each, lit),
      s('rect', { x: 164 + way * 148 - 10, y: 52, width: 20, height: 56, class: 'line' }),
    ];
  });
  return [
    s('rect', { x: 24, y: 78, width: 280, height: 14, class: 'mass' }),
    s('circle', { cx: 164, cy: 85, r: 18, class: 'mass' }),
    both,
  ];
}

// What is measured of the bar alone, beside what is measured of every link.
function barMarks([fromX, fromY], [toX, toY], way) {
  const travel = (
    end,
    text,
    y,
  ) => [
    arrow(toX, toY + Math.sign(end - toY) * 8, toX, end),
    words(toX + way * 12, y, text, 'lit', way > 0 ? 'start' : 'end'),
  ];
  return {
    frame_end_from_center: [
      line(164, 6, 164, 106, 'axis'),
      line(fromX, fromY, fromX, 94, 'dots'),
      arrow(164, 88, fromX, 88),
    ],
    axle_tube_height: [
      s('rect', { x: toX - 40, y: 76, width: 80, height: 14, class: 'mass' }),
      line(toX, toY + 6, toX, 83),
      line(toX - 48, 83, toX + 48, 83, 'axis'),
      arrow(toX + way * 26, 83, toX + way * 26, 106),
      words(toX + way * 56, 98, 'axle tube', 'lit', way > 0 ? 'start' : 'end'),
    ],
    rail_height: [
      s('rect', { x: fromX - 14, y: 3, width: 28, height: 16, class: 'shape lit' }),
      line(fromX, 19, fromX, fromY - 6),
      arrow(fromX + way * 26, 20, fromX + way * 26, 106),
      line(fromX, 19, fromX + way * 34, 19, 'dots'),
      words(fromX - way * 22, 17, 'rail', 'lit', way > 0 ? 'end' : 'start'),
    ],
    bump: travel(22, 'up', 40),
    droop: travel(104, 'down', 96),
  };
}

function bar(what) {
  return what.field === 'fore_aft'
    ? foreAft(what, bolt)
    : fromBehind(what, bolt, 'eye to eye', barMarks);
}

/** What stands between the face and where it is measured from. */
function spacer() {
  return [
    s('rect', { x: 60, y: 44, width: 80, height: 26, class: 'mass' }),
    s('rect', { x: 140, y: 10, width: 12, height: 94, class: 'shape' }),
    s('rect', { x: 152, y: 26, width: 22, height: 62, class: 'shape lit' }),
    s('rect', { x: 174, y: 4, width: 40, height: 106, class: 'mass' }),
    arrow(152, 98, 174, 98),
    words(222, 102, 'spacer', 'lit'),
    words(132, 30, 'rotor', '', 'end'),
    words(222, 30, 'wheel'),
  ];
}

/**
 * The threaded end in its sleeve, cut open: what thread lies beyond the witness hole may still come
 * out.
 */
function thread({ both }) {
  const end = (eye, way) => {
    const hole = eye + way * 88;
    const inner = eye + way * 128;
    const turns = Array.from({ length: 18 }, (_, index) => {
      const x = eye + way * (18 + index * 6);
      return [x, 46, x + way * 3, 66];
    });
    return [
      s('circle', { cx: eye, cy: 56, r: 13, class: 'shape' }),
      s('circle', { cx: eye, cy: 56, r: 5, class: 'bolt' }),
      line(eye + way * 13, 46, inner, 46),
      line(eye + way * 13, 66, inner, 66),
      line(inner, 46, inner, 66),
      lines(turns, 'fine'),
      s('rect', { x: eye + way * 46 - 7, y: 38, width: 14, height: 36, class: 'shape' }),
      line(hole, 30, hole, 44, 'scribe-line'),
      line(hole, 66, hole, 92, 'dots'),
      line(inner, 66, inner, 92, 'dots'),
      arrow(hole, 86, inner, 86),
    ];
  };
  const [first, last] = both ? [18, 310] : [60, 328];
  return [
    s('rect', {
      x: first + 54,
      y: 40,
      width: last - first - (both ? 108 : 54),
      height: 32,
      class: 'mass',
    }),
    end(first, 1),
    both && end(last, -1),
    words(first + 88, 24, 'witness hole', '', 'middle'),
    both && words(last - 88, 24, 'witness hole', '', 'middle'),
    both
      ? words(164, 108, 'thread left', 'lit', 'middle')
      : words(first + 136, 91, 'thread left', 'lit'),
    words(first + 46, 90, 'jam nut', '', 'middle'),
    both && words(last - 46, 90, 'jam nut', '', 'middle'),
  ];
}

/** The picture for a `step` and its side or field, or for a setting of the centering. */
export function draw({ step, ...what }) {
  return picture(
    { centering, heights, spacer, thread, track_bar: bar, drag_link: dragLink }[step](what),
  );
}
