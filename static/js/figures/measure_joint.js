/** Short pictures of what to measure at a joint, and which end of a bolt is turned. */

import { arrow } from './arrow.js';
import { line, picture, s, words } from '../dom.js';

const EYE = { x: 120, y: 58 };

// Seen along the bolt: the bar's eye in its bracket, a dial on the bracket with its tip on the bar.
function along() {
  return [
    s('path', { d: 'M70 8h100v84h-100z', class: 'shape' }),
    line(EYE.x, EYE.y, 320, EYE.y, 'bar'),
    s('circle', { cx: EYE.x, cy: EYE.y, r: 26, class: 'shape lit' }),
    s('circle', { cx: EYE.x, cy: EYE.y, r: 10, class: 'bolt' }),
    s('circle', { cx: 234, cy: 24, r: 18, class: 'shape' }),
    line(234, 24, 244, 14, 'scribe-line'),
    line(216, 24, 190, 24, 'line'),
    line(190, 24, 190, 52, 'line'),
    arrow(228, 84, 312, 84),
    words(270, 104, 'to and fro', 'lit', 'middle'),
    words(74, 106, 'bracket'),
  ];
}

function hole(field) {
  const ways = {
    hole_long: [arrow(108, 58, 196, 58), words(152, 26, 'long way', 'lit', 'middle')],
    hole_short: [arrow(152, 30, 152, 86), words(206, 62, 'short way', 'lit')],
    edge: [
      line(152, 58, 152, 16, 'axis'),
      arrow(152, 58, 258, 58),
      words(206, 50, 'to the edge', 'lit', 'middle'),
    ],
  };
  return [
    s('path', { d: 'M44 8h214v96h-214z', class: 'shape' }),
    s('ellipse', { cx: 152, cy: 58, rx: 44, ry: 28, class: 'mass' }),
    s('ellipse', { cx: 152, cy: 58, rx: 44, ry: 28, class: 'line' }),
    ways[field],
  ];
}

function shank(litHead, litNut) {
  return [
    s('rect', { x: 66, y: 40, width: 190, height: 34, class: 'shape' }),
    s('path', { d: 'M44 28h22v58h-22z', class: litHead ? 'shape lit' : 'shape' }),
    s('path', { d: 'M226 26h28v62h-28z', class: litNut ? 'shape lit' : 'shape' }),
    [260, 266, 272, 278].map((x) => line(x, 42, x - 4, 72, 'fine')),
    s('path', { d: 'M254 40h28v34h-28', class: 'line' }),
    s('path', { d: 'M96 18h24v78h-24zM176 18h24v78h-24z', class: 'mass' }),
  ];
}

function bolt() {
  return [shank(false, false), arrow(148, 40, 148, 74), words(148, 34, 'shank', 'lit', 'middle')];
}

function sleeve() {
  return [
    s('circle', { cx: 152, cy: 58, r: 48, class: 'mass' }),
    s('circle', { cx: 152, cy: 58, r: 32, class: 'shape' }),
    s('circle', { cx: 152, cy: 58, r: 24, class: 'line' }),
    arrow(128, 58, 176, 58),
    words(210, 40, 'rubber'),
    words(210, 62, 'sleeve'),
    words(152, 52, 'bore', 'lit', 'middle'),
    line(206, 58, 182, 58, 'fine'),
    line(206, 36, 190, 36, 'fine'),
  ];
}

/** What to measure of a joint: along, bolt, hole_long, hole_short, sleeve or edge. */
export function drawJoint(field) {
  return picture({ along, bolt, sleeve }[field]?.() ?? hole(field));
}

/** A bolt through its bracket, with the end that is turned lit. */
export function drawBolt(end) {
  return picture([
    shank(end === 'bolt', end === 'nut'),
    words(55, 104, 'bolt', end === 'bolt' ? 'lit' : '', 'middle'),
    words(240, 104, 'nut', end === 'nut' ? 'lit' : '', 'middle'),
  ]);
}
