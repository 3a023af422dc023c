/** Small marks for travel states and steering locks, drawn from behind as seated. */

import { h, line, round, s } from '../dom.js';

// How far the axle's left and right ends lie above (-) or below the ride height on the mark.
const ENDS = { ride: [0, 0], full_bump: [-7, -7], full_droop: [7, 7], crossed: [-6, 6] };
const TURN = { left: -26, straight: 0, right: 26 };

function small(width, height, parts) {
  return s(
    'svg',
    { viewBox: `0 0 ${width} ${height}`, class: 'fig mark', 'aria-hidden': 'true' },
    parts,
  );
}

/** The frame with its axle below it, where the travel state puts it. */
export function stateMark(state, flip) {
  const [left, right] = flip ? [...ENDS[state]].reverse() : ENDS[state];
  const wheel = (x, y) =>
    s('rect', { x: x - 3, y: 26 + y - 8, width: 6, height: 16, class: 'shape' });
  return small(56, 44, [
    s('rect', { x: 16, y: 4, width: 24, height: 5, class: 'mass' }),
    line(10, 26 + left, 46, 26 + right, 'scribe-line'),
    wheel(8, left),
    wheel(48, right),
  ]);
}

/** Both front wheels from above, turned to a lock. */
export function lockMark(lock, flip) {
  const turn = TURN[lock] * (flip ? -1 : 1);
  const wheel = (x) =>
    s('rect', {
      x: x - 3.5,
      y: 2,
      width: 7,
      height: 20,
      class: 'shape',
      transform: `rotate(${round(turn)} ${x} 12)`,
    });
  return small(56, 24, [line(14, 12, 42, 12, 'fine'), wheel(14), wheel(42)]);
}

/** A mark with its word below. */
export function marked(mark, text) {
  return [mark, h('span', {}, text)];
}
