/**
 * Axle, track bar and drag link through the travel, from behind and to scale. The frame stands
 * still; the axle rises in bump. The sideways shift is drawn larger, and the figure says how much.
 */

import { axle, barAt, Board, frame, legend, linkAt, places } from './axle_view.js';
import { track_bar as trackBar } from '../reckon.js';
import { corners, drawing } from '../dom.js';

const WIDTH = 328;
const SHIFT_TIMES = 3;

/** How the figure is to be read. */
export function caption(flip) {
  const view = flip ? 'From the front' : 'From behind';
  return `${view}, to scale; the sideways shift is drawn ${SHIFT_TIMES} times larger`;
}

/** The figure of a sheet and its findings at a travel in mm, which `says` tells in words. */
export function draw(data, travel, { flip = false, says = '' } = {}) {
  const board = new Board(places(data), flip);
  const { bump = 0, droop = 0 } = data.sheet.track_bar;
  board.top = Math.max(board.top, 2 * board.at.tube + bump + 70);
  const shift = board.at.offset +
    (trackBar.shift_at(data.sheet.track_bar, travel) ?? 0) * SHIFT_TIMES;
  const { height, parts } = legend(board, Math.round((board.top + droop) * board.scale) + 18);
  return drawing(
    WIDTH,
    height,
    says,
    corners(WIDTH, flip),
    axle(board, shift, travel),
    frame(board),
    linkAt(board, shift, travel),
    barAt(board, shift, travel),
    parts,
  );
}
