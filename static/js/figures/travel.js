/**
 * Axle, track bar and drag link through the travel, from behind and to scale. The frame stands
 * still; the axle rises in bump. The sideways shift is drawn larger, and the figure says how much.
 */

import {axle, Board, bolt, frame, places} from './across.js';
import {drag_link as dragLink, track_bar as trackBar} from '../reckon.js';
import {corners, drawing, line} from '../dom.js';

const WIDTH = 328;
const SHIFT_TIMES = 3;

function barEnds(board, moved, travel) {
  const {bar, arc, rails} = board.at;
  const side = bar.frame_end === 'left' ? 1 : -1;
  const from = side * (bar.frame_end_from_centre ?? rails / 2 - 20);
  return [[from, bar.frame_height], [from - side * arc.run + moved, bar.axle_height + travel]];
}

/** The pitman ball stands with the frame; the other ball hangs on the knuckle and goes with the axle. */
function linkEnds(board, link, moved, travel) {
  const side = link.frame_end === 'left' ? 1 : -1;
  const run = dragLink.link_run(link);
  if (run === null) return null;
  const knuckle = -side * (board.at.out[side > 0 ? 'right' : 'left'] - 70);
  return [[knuckle + side * run, link.frame_height], [knuckle + moved, link.axle_height + travel]];
}

function rod(board, [from, to], kind) {
  return [line(board.x(from[0]), board.y(from[1]), board.x(to[0]), board.y(to[1]), kind), bolt(board, from), bolt(board, to)];
}

/** How the figure is to be read. */
export function caption(flip) {
  return `${flip ? 'From the front' : 'From behind'}, to scale; the sideways shift is drawn ${SHIFT_TIMES} times larger`;
}

/** The figure of a sheet and its findings at a travel in mm, which `says` tells in words. */
export function draw(data, travel, {flip = false, says} = {}) {
  const {sheet} = data;
  const board = new Board(places(data), flip);
  const {bump = 0, droop = 0} = sheet.track_bar;
  board.top = Math.max(board.top, 2 * board.at.tube + bump + 70);
  const moved = (trackBar.shift_at(sheet.track_bar, travel) ?? 0) * SHIFT_TIMES;
  const link = sheet.drag_link && linkEnds(board, sheet.drag_link, moved, travel);
  const height = Math.round((board.top + droop) * board.scale) + 18;
  return drawing(WIDTH, height, says, corners(WIDTH, flip),
    axle(board, moved, travel), frame(board), link && rod(board, link, 'link'), rod(board, barEnds(board, moved, travel), 'bar'));
}
