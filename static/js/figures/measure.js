/** A short picture of what to measure, from where to where, with the side in hand lit. */

import {across, arrow} from './arrow.js';
import {dragLink} from './measurelink.js';
import {drawing, line, s, words} from '../dom.js';

const WIDTH = 328;

function sideWord(x, y, side, lit) {
  return words(x, y, side, lit ? 'lit' : '', 'middle');
}

const FACE_AT = {hub: 122, rotor: 116, knuckle: 110, tyre: 128};

function centring({side, face = 'rotor', method, flip}) {
  const faceAt = FACE_AT[face];
  const both = ['left', 'right'].map((each) => {
    const way = across(each, flip);
    const lit = each === side;
    const [rail, end] = [164 + way * 78, 164 + way * faceAt];
    return [
      s('rect', {x: 164 + way * 66 - 12, y: 14, width: 24, height: 40, class: 'shape'}),
      s('rect', {x: 164 + way * (faceAt + 9) - 7, y: 42, width: 14, height: 58, class: lit ? 'shape lit' : 'shape'}),
      method === 'plumb_bob' ? [line(rail, 54, rail, 106, 'dots'), line(end + way * 2, 90, end + way * 2, 106, 'dots')] : line(rail, 30, rail, 62, 'dots'),
      arrow(rail, method === 'plumb_bob' ? 104 : 48, end + way * 2, method === 'plumb_bob' ? 104 : 48, lit ? '' : 'faint'),
      sideWord((rail + end) / 2, 32, each, lit),
    ];
  });
  return [s('rect', {x: 40, y: 66, width: 248, height: 14, class: 'mass'}), s('circle', {cx: 164, cy: 73, r: 18, class: 'mass'}), both];
}

function heights({side, flip}) {
  const both = ['left', 'right'].map((each) => {
    const way = across(each, flip);
    const lit = each === side;
    const x = 164 + way * 78;
    return [
      s('rect', {x: x - 14, y: 8, width: 28, height: 30, class: lit ? 'shape lit' : 'shape'}),
      arrow(x, 40, x, 76, lit ? '' : 'faint'),
      sideWord(164 + way * 101, 62, each, lit),
      s('rect', {x: 164 + way * 130 - 10, y: 52, width: 20, height: 56, class: 'line'}),
    ];
  });
  return [s('rect', {x: 40, y: 78, width: 248, height: 14, class: 'mass'}), s('circle', {cx: 164, cy: 85, r: 18, class: 'mass'}), both];
}

function bar({field, frame_end: frameEnd = 'left', flip}) {
  const way = across(frameEnd, flip);
  const [from, to] = [[164 + way * 92, 26], [164 - way * 84, 62]];
  const marks = {
    length: [line(from[0], from[1] - 14, to[0], to[1] - 14, 'scribe-line'), words(164, 28, 'eye to eye', 'lit', 'middle')],
    frame_height: [arrow(from[0] + way * 22, 26, from[0] + way * 22, 106, ''), line(from[0], 26, from[0] + way * 30, 26, 'dots')],
    axle_height: [arrow(to[0] - way * 22, 62, to[0] - way * 22, 106, ''), line(to[0], 62, to[0] - way * 30, 62, 'dots')],
    frame_end_from_centre: [line(164, 6, 164, 108, 'axis'), arrow(164, 12, from[0], 12, '')],
    bump: [arrow(to[0], 58, to[0], 22, ''), words(to[0] - way * 10, 34, 'up', 'lit', 'end')],
    droop: [arrow(to[0], 66, to[0], 102, ''), words(to[0] - way * 10, 92, 'down', 'lit', 'end')],
  };
  if (field === 'fore_aft') return foreAft(way);
  return [
    line(20, 106, 308, 106, 'fine'), line(from[0], from[1], to[0], to[1], 'bar'),
    s('circle', {cx: from[0], cy: from[1], r: 6, class: 'bolt'}), s('circle', {cx: to[0], cy: to[1], r: 6, class: 'bolt'}),
    words(from[0] + way * 12, 20, 'frame end', '', way > 0 ? 'start' : 'end'), words(to[0] - way * 12, 56, 'axle end', '', way > 0 ? 'end' : 'start'),
    marks[field] ?? [],
  ];
}

// Seen from above, the front of the vehicle upward.
function foreAft(way) {
  const [from, to] = [[164 + way * 92, 34], [164 - way * 84, 76]];
  return [
    words(164, 14, 'from above, front of the vehicle up', '', 'middle'),
    line(from[0], from[1], to[0], to[1], 'bar'), line(from[0], from[1], to[0] - way * 20, from[1], 'dots'),
    arrow(to[0] - way * 16, from[1], to[0] - way * 16, to[1], ''),
    s('circle', {cx: from[0], cy: from[1], r: 6, class: 'bolt'}), s('circle', {cx: to[0], cy: to[1], r: 6, class: 'bolt'}),
  ];
}

/** The picture for a `step` and its side or field; hidden from screen readers, as the question says the same. */
export function draw({step, ...what}) {
  const parts = {centring, heights, track_bar: bar, drag_link: dragLink}[step](what);
  const picture = drawing(WIDTH, 112, '', parts);
  picture.removeAttribute('role');
  picture.setAttribute('aria-hidden', 'true');
  return picture;
}
