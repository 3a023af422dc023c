/**
 * The axle from behind, to scale: rails, axle, wheels and bar, with the sideways move enlarged.
 * Left is drawn on the left, as seated; `flip` turns it for someone who looks from the front.
 */

import {corners, drawing, line, round, s, words} from '../dom.js';

const WIDTH = 328;
const TYRE = 235; // mm, drawn only to place the eye
const RAIL = {width: 70, height: 125};
const TUBE = 40; // half the axle tube's height, mm
const MOVE_DRAWN = 95; // an offset is enlarged to at most this, mm
const USUAL = {rails: 860, top: 640, heights: 170};

function mean(values) {
  return values?.length ? values.reduce((sum, each) => sum + each, 0) / values.length : null;
}

/** The measured places in mm (y to the left, z up), with usual ones for what was not measured. */
export function places({sheet, findings, rail_width: railWidth}) {
  const bar = sheet.track_bar;
  const arc = findings.bar_arc?.state === 'known' ? findings.bar_arc : null;
  const rails = railWidth ?? (bar?.frame_end_from_centre ? Math.max(bar.frame_end_from_centre * 2 - 60, 600) : USUAL.rails);
  const tube = bar?.axle_tube_height ?? (bar?.axle_height ? Math.max(bar.axle_height - 70, 260) : 420);
  const found = findings.centring;
  // Nothing is moved on readings whose sum differs.
  const advised = found?.sum_state !== 'differs';
  return {
    rails, tube, bar, arc,
    out: {left: rails / 2 + (found?.left ?? 220), right: rails / 2 + (found?.right ?? 220)},
    height: {left: mean(sheet.heights?.left) ?? USUAL.heights, right: mean(sheet.heights?.right) ?? USUAL.heights},
    offset: found?.offset ?? 0,
    then: advised ? findings.bar_change?.leftover ?? null : null, advised,
    state: found?.state ?? 'incomplete',
  };
}

function enlargement({offset, then}) {
  const size = Math.max(Math.abs(offset), Math.abs(then ?? 0));
  if (size < 0.5) return 1;
  return Math.max(1, Math.min(20, Math.floor(MOVE_DRAWN / size)));
}

/** The sheet that the drawing is made on: mm to the figure's own units. */
export class Board {
  constructor(at, flip) {
    this.at = at;
    this.half = Math.max(at.out.left, at.out.right) + TYRE + 130;
    this.scale = WIDTH / (2 * this.half);
    this.side = flip ? 1 : -1;
    this.top = Math.max(at.tube + TUBE + Math.max(at.height.left, at.height.right) + RAIL.height, at.bar?.frame_height ?? 0, 2 * at.tube - 60) + 150;
    this.height = Math.round(this.top * this.scale) + 22;
  }
  x = (y) => WIDTH / 2 + this.side * y * this.scale;
  y = (z) => 10 + (this.top - z) * this.scale;
  box(y, z, width, height, kind) {
    return s('rect', {
      x: round(this.x(y) - (width * this.scale) / 2), y: round(this.y(z + height)),
      width: round(width * this.scale), height: round(height * this.scale), class: kind,
    });
  }
}

export function frame(board) {
  const {rails, tube, height} = board.at;
  const inner = rails / 2 - RAIL.width / 2;
  const floor = (side) => tube + TUBE + height[side];
  const middle = (floor('left') + floor('right')) / 2 + RAIL.height / 2;
  return [
    line(board.x(inner), board.y(middle), board.x(-inner), board.y(middle), 'fine'),
    board.box(inner, floor('left'), RAIL.width, RAIL.height, 'shape'),
    board.box(-inner, floor('right'), RAIL.width, RAIL.height, 'shape'),
    line(board.x(0), board.y(board.top - 60), board.x(0), board.y(0), 'axis'),
  ];
}

export function axle(board, shift, lift = 0) {
  const {tube: low, out, offset} = board.at;
  const tube = low + lift;
  const left = out.left - offset + shift;
  const right = -(out.right + offset) + shift;
  return [
    s('rect', {x: round(Math.min(board.x(left), board.x(right))), y: round(board.y(tube + TUBE)),
      width: round(Math.abs(board.x(left) - board.x(right))), height: round(2 * TUBE * board.scale), class: 'mass'}),
    s('circle', {cx: round(board.x(shift)), cy: round(board.y(tube)), r: round(135 * board.scale), class: 'mass'}),
    board.box(left + TYRE / 2 + 20, lift, TYRE, 2 * low, 'line'),
    board.box(right - TYRE / 2 - 20, lift, TYRE, 2 * low, 'line'),
    line(board.x(-board.half), board.y(lift), board.x(board.half), board.y(lift), 'fine'),
  ];
}

function ends(board, shift) {
  const {bar, arc, offset, rails} = board.at;
  const sign = bar.frame_end === 'left' ? 1 : -1;
  const frameEnd = sign * (bar.frame_end_from_centre ?? rails / 2 - 20);
  return {from: [frameEnd, bar.frame_height], to: [frameEnd - sign * arc.run - offset + shift, bar.axle_height]};
}

export function bolt(board, [y, z]) {
  return s('circle', {cx: round(board.x(y)), cy: round(board.y(z)), r: 5, class: 'bolt'});
}

// The same mark as in the interval figure: where it will be after the change.
function cross(board, [y, z]) {
  return s('path', {d: `M${round(board.x(y) - 5)} ${round(board.y(z) - 5)}l10 10m0-10l-10 10`, class: 'after'});
}

// Clear of the bar, of the wheels beside its ends and of the bracket above the frame end.
function label(board, [y, z], text, under) {
  return words(board.x(y), board.y(z) + (under ? 7 : -10), text, 'lit', 'middle', under);
}

function trackBar(board, shift, then) {
  if (!board.at.arc) return [];
  const now = ends(board, shift);
  const after = then === null ? null : ends(board, then).to;
  const side = board.at.bar.frame_end === 'left' ? 1 : -1;
  const rail = [side * (board.at.rails / 2 - RAIL.width / 2), board.at.tube + TUBE + board.at.height[board.at.bar.frame_end] + 20];
  return [
    line(board.x(rail[0]), board.y(rail[1]), board.x(now.from[0]), board.y(now.from[1]), 'line'),
    line(board.x(now.from[0]), board.y(now.from[1]), board.x(now.to[0]), board.y(now.to[1]), 'bar'),
    bolt(board, now.from), bolt(board, now.to), after && cross(board, after),
    label(board, now.from, 'frame end', true), label(board, now.to, 'axle end', false),
  ];
}

function moveArrow(board, shift) {
  const {offset, tube, state, advised} = board.at;
  if (!advised || Math.abs(offset) < 0.5 || !['outside', 'too_close'].includes(state)) return [];
  const [x1, x2, y] = [board.x(shift), board.x(0), board.y(tube - TUBE - 60)];
  const tip = Math.sign(x2 - x1);
  return [s('g', {class: `is-${state}`},
    line(x1, y, x2 - tip * 4, y, 'whisker'),
    s('path', {d: `M${round(x2)} ${round(y)}l${-tip * 10} -6v12z`, class: 'dot'}),
    words(WIDTH / 2, y + 7, `move ${Math.abs(offset).toFixed(1)} mm to the ${offset > 0 ? 'right' : 'left'}`, 'verdict', 'middle', true))];
}

/** How much the sideways move is enlarged in the drawing of these data. */
export function enlarged(data) {
  return enlargement(places(data));
}

/** The drawing of a `sheet` and its `findings`. */
export function draw(data, {flip = false} = {}) {
  const at = places(data);
  const times = enlargement(at);
  const board = new Board(at, flip);
  const shift = at.offset * times;
  const then = at.then === null ? null : at.then * times;
  return drawing(WIDTH, board.height, spoken(at, flip),
    corners(WIDTH, flip), axle(board, shift), frame(board), trackBar(board, shift, then), moveArrow(board, shift));
}

function spoken({bar, offset}, flip) {
  const seen = flip ? 'from the front' : 'from behind';
  const end = bar?.frame_end ? `, track bar with its frame end on the ${bar.frame_end}` : '';
  const side = offset > 0 ? 'left' : 'right';
  return `The axle ${seen}${end}; it sits ${Math.abs(offset).toFixed(1)} mm to the ${side}`;
}

/** The heading of the drawing: from where it is seen and how it is enlarged. */
export function caption(data, {flip = false} = {}) {
  const times = enlarged(data);
  const seen = flip ? 'From the front, to scale' : 'From behind, to scale';
  return times > 1 ? `${seen}; the move is drawn ${times} times larger` : seen;
}
