/** What to measure at the drag link, its arm, the wheels' toe and the wheelbase. */

import {across, arrow} from './arrow.js';
import {line, s, words} from '../dom.js';

const MIDDLE = 164;

function ball([x, y]) {
  return [s('circle', {cx: x, cy: y, r: 7, class: 'shape'}), s('circle', {cx: x, cy: y, r: 2.5, class: 'bolt'})];
}

function ends(from, to, way, low = 0) {
  return [words(from[0] + way * 13, from[1] - 8 + low, 'frame end', '', way > 0 ? 'start' : 'end'), words(to[0] - way * 13, to[1] - 10 + low, 'axle end', '', way > 0 ? 'end' : 'start')];
}

// From behind: the pitman arm hangs from the frame, the link runs down to the axle end.
function fromBehind({field, frame_end: frameEnd = 'left', flip}) {
  const way = across(frameEnd, flip);
  const [from, to] = [[MIDDLE + way * 78, 34], [MIDDLE - way * 84, 66]];
  const marks = {
    length: [line(from[0], from[1] + 14, to[0], to[1] + 14, 'scribe-line'), words(MIDDLE + way * 4, 84, 'ball to ball', 'lit', 'middle')],
    frame_height: [arrow(from[0] + way * 22, 34, from[0] + way * 22, 106, ''), line(from[0], 34, from[0] + way * 30, 34, 'dots')],
    axle_height: [arrow(to[0] - way * 22, 66, to[0] - way * 22, 106, ''), line(to[0], 66, to[0] - way * 30, 66, 'dots')],
  };
  return [line(20, 106, 308, 106, 'fine'), line(from[0], from[1], from[0], 6, 'line'), line(from[0], from[1], to[0], to[1], 'bar'), ball(from), ball(to), ends(from, to, way), marks[field] ?? []];
}

function up() {
  return words(MIDDLE, 12, 'from above, front of the vehicle up', '', 'middle');
}

function wheel(x, y, lean = 0, kind = 'line') {
  return s('rect', {x: x - 9, y: y - 30, width: 18, height: 60, class: kind, transform: `rotate(${lean} ${x} ${y})`});
}

function foreAft({frame_end: frameEnd = 'left', flip}) {
  const way = across(frameEnd, flip);
  const [from, to] = [[MIDDLE + way * 88, 86], [MIDDLE - way * 80, 48]];
  return [up(), line(from[0], from[1], to[0], to[1], 'bar'), line(from[0], from[1], to[0] - way * 22, from[1], 'dots'),
    arrow(to[0] - way * 18, to[1], to[0] - way * 18, from[1], ''), ball(from), ball(to), ends(from, to, way, 2)];
}

// The knuckle of the axle end, seen from above with its arm ahead of the axle or behind it.
function arm({frame_end: frameEnd = 'left', arm_points: points = 'forward', flip}) {
  const way = -across(frameEnd, flip);
  const x = MIDDLE + way * 76;
  const [axle, end] = points === 'forward' ? [88, 38] : [42, 92];
  return [up(), line(40, axle, 288, axle, 'line'), wheel(x + way * 40, axle > 60 ? 80 : 50), line(x, axle, x, end, 'bar'),
    s('circle', {cx: x, cy: axle, r: 5, class: 'bolt'}), ball([x, end]), line(x, end, x - way * 130, end + (points === 'forward' ? 8 : -8), 'fine'),
    arrow(x - way * 26, axle, x - way * 26, end, ''), words(x - way * 36, (axle + end) / 2 + 4, points, 'lit', way > 0 ? 'end' : 'start')];
}

function toe({field}) {
  const [ahead, behind] = [34, 88];
  const marks = {
    toe_front: [arrow(78, ahead, 250, ahead, ''), words(MIDDLE, ahead - 5, 'ahead of the axle', 'lit', 'middle')],
    toe_rear: [arrow(68, behind, 260, behind, ''), words(MIDDLE, behind - 5, 'behind the axle', 'lit', 'middle')],
    toe_span: [arrow(150, ahead, 150, behind, ''), line(72, ahead, 256, ahead, 'dots'), line(66, behind, 262, behind, 'dots')],
  };
  return [up(), line(64, 61, 264, 61, 'line'), wheel(64, 61, 6), wheel(264, 61, -6), marks[field] ?? []];
}

function wheelbase({field, flip}) {
  const side = field === 'wheelbase_right' ? 'right' : 'left';
  const x = MIDDLE + across(side, flip) * 104;
  const mark = field === 'wheelbase_track' ? [arrow(82, 40, 246, 40, ''), words(MIDDLE, 56, 'track', 'lit', 'middle')] : [arrow(x, 38, x, 90, ''), words(x, 108, side, 'lit', 'middle')];
  const small = (at, y) => s('rect', {x: at - 8, y: y - 16, width: 16, height: 32, class: 'line'});
  return [up(), line(82, 38, 246, 38, 'line'), line(82, 90, 246, 90, 'line'), line(MIDDLE, 38, MIDDLE, 90, 'axis'),
    [82, 246].map((at) => [small(at, 38), small(at, 90)]), mark];
}

/** The picture of one reading of the drag link's step. */
export function dragLink(what) {
  if (what.field === 'fore_aft') return foreAft(what);
  if (what.field === 'arm') return arm(what);
  if (what.field.startsWith('toe_')) return toe(what);
  return what.field.startsWith('wheelbase_') ? wheelbase(what) : fromBehind(what);
}
