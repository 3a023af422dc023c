/** What to measure at the drag link, its arm, the wheels' toe and the wheelbase. */

import { across, arrow, ball, foreAft, fromBehind, up } from './arrow.js';
import { line, s, words } from '../dom.js';

const MIDDLE = 164;

function wheel(x, y, lean = 0, kind = 'line') {
  return s('rect', {
    x: x - 9,
    y: y - 30,
    width: 18,
    height: 60,
    class: kind,
    transform: `rotate(${lean} ${x} ${y})`,
  });
}

// The knuckle of the axle end, seen from above with its arm ahead of the axle or behind it.
function arm({ frame_end: frameEnd = 'left', arm_points: points = 'forward', flip }) {
  const way = -across(frameEnd, flip);
  const x = MIDDLE + way * 76;
  const [axle, end] = points === 'forward' ? [88, 38] : [42, 92];
  return [
    up(),
    line(40, axle, 288, axle, 'line'),
    wheel(x + way * 40, axle > 60 ? 80 : 50),
    line(x, axle, x, end, 'bar'),
    s('circle', { cx: x, cy: axle, r: 5, class: 'bolt' }),
    ball([x, end]),
    line(x, end, x - way * 130, end + (points === 'forward' ? 8 : -8), 'fine'),
    arrow(x - way * 26, axle, x - way * 26, end),
    words(x - way * 36, (axle + end) / 2 + 4, points, 'lit', way > 0 ? 'end' : 'start'),
  ];
}

function toe({ field }) {
  const [ahead, behind] = [36, 90];
  const marks = {
    toe_front: [
      arrow(78, ahead, 250, ahead),
      words(MIDDLE, ahead + 4, 'ahead of the axle', 'lit', 'middle', true),
    ],
    toe_rear: [
      arrow(68, behind, 260, behind),
      words(MIDDLE, behind - 6, 'behind the axle', 'lit', 'middle'),
    ],
    toe_span: [
      arrow(150, ahead, 150, behind),
      line(72, ahead, 256, ahead, 'dots'),
      line(66, behind, 262, behind, 'dots'),
    ],
  };
  return [
    up(),
    line(64, 61, 264, 61, 'line'),
    wheel(64, 61, 6),
    wheel(264, 61, -6),
    marks[field] ?? [],
  ];
}

function wheelbase({ field, flip }) {
  const side = field === 'wheelbase_right' ? 'right' : 'left';
  const x = MIDDLE + across(side, flip) * 118;
  const mark = field === 'wheelbase_track'
    ? [arrow(82, 40, 246, 40), words(MIDDLE, 44, 'track', 'lit', 'middle', true)]
    : [arrow(x, 36, x, 88), words(x, 107, side, 'lit', 'middle')];
  const small = (at, y) =>
    s('rect', { x: at - 8, y: y - 16, width: 16, height: 32, class: 'line' });
  return [
    up(),
    line(82, 38, 246, 38, 'line'),
    line(82, 90, 246, 90, 'line'),
    line(MIDDLE, 38, MIDDLE, 90, 'axis'),
    [82, 246].map((at) => [small(at, 38), small(at, 90)]),
    mark,
  ];
}

/** The picture of one reading of the drag link's step. */
export function dragLink(what) {
  if (what.field === 'fore_aft') return foreAft(what, ball);
  if (what.field === 'arm') return arm(what);
  if (what.field.startsWith('toe_')) return toe(what);
  return what.field.startsWith('wheelbase_')
    ? wheelbase(what)
    : fromBehind(what, ball, 'ball to ball');
}
