/**
 * The axle from behind, to scale: rails, axle, wheels, bar and drag link, with the sideways
 * move enlarged.
 * Left is drawn on the left, as seated; `flip` turns it for someone who looks from the front.
 */

import { corners, drawing, line, round, s, words } from '../dom.js';
import { drag_link as dragLink, lengths, terms } from '../reckon.js';

const WIDTH = 328;
const TIRE = 235; // mm, drawn only to place the eye
const RAIL = { width: 70, height: 125 };
const TUBE = 40; // half the axle tube's height, mm
const MOVE_DRAWN = 95; // an offset is enlarged to at most this, mm
// How far inside the face the drag link's ball hangs on its knuckle, mm, as nobody measures it.
const BALL_IN = 70;
const LINK_NEEDS = ['frame_end', 'length', 'frame_height', 'axle_height'];
const USUAL = { rails: 860, top: 640, heights: 170 };

function mean(values) {
  return values?.length ? values.reduce((sum, each) => sum + each, 0) / values.length : null;
}

// Only a link that is known well enough to lie between its balls is drawn.
function linkOf({ drag_link: link }) {
  const known = link && LINK_NEEDS.every((name) => (link[name] ?? null) !== null);
  return known && dragLink.link_run(link) !== null ? link : null;
}

/** The measured places in mm (y to the left, z up), with usual ones for what was not measured. */
export function places({ sheet, findings, rail_width: railWidth = sheet.rail_width }) {
  const bar = sheet.track_bar;
  const arc = findings.bar_arc?.state === 'known' ? findings.bar_arc : null;
  const rails = railWidth ??
    (bar?.frame_end_from_center ? Math.max(bar.frame_end_from_center * 2 - 60, 600) : USUAL.rails);
  const tube = bar?.axle_tube_height ??
    (bar?.axle_height ? Math.max(bar.axle_height - 70, 260) : 420);
  const found = findings.centering;
  const advised = findings.advice?.state === 'adjust';
  return {
    rails,
    tube,
    bar,
    arc,
    link: linkOf(sheet),
    out: { left: rails / 2 + (found?.left ?? 220), right: rails / 2 + (found?.right ?? 220) },
    height: {
      left: mean(sheet.heights?.left) ?? USUAL.heights,
      right: mean(sheet.heights?.right) ?? USUAL.heights,
    },
    offset: found?.offset ?? 0,
    then: advised ? findings.bar_change?.counted_leftover ?? null : null,
    advised,
    state: found?.state ?? 'incomplete',
    unit: sheet.units ?? 'mm',
  };
}

function enlargement({ offset, then }) {
  const size = Math.max(Math.abs(offset), Math.abs(then ?? 0));
  if (size < 0.5) return 1;
  return Math.max(1, Math.min(20, Math.floor(MOVE_DRAWN / size)));
}

/** The sheet that the drawing is made on: mm to the figure's own units. */
export class Board {
  constructor(at, flip) {
    this.at = at;
    this.half = Math.max(at.out.left, at.out.right) + TIRE + 130;
    this.scale = WIDTH / (2 * this.half);
    this.side = flip ? 1 : -1;
    this.top = Math.max(
      at.tube + TUBE + Math.max(at.height.left, at.height.right) + RAIL.height,
      at.bar?.frame_height ?? 0,
      at.link?.frame_height ?? 0,
      2 * at.tube - 60,
    ) + 150;
    this.height = Math.round(this.top * this.scale) + 22;
  }
  x = (y) => WIDTH / 2 + this.side * y * this.scale;
  y = (z) => 10 + (this.top - z) * this.scale;
  box(y, z, width, height, kind) {
    return s('rect', {
      x: round(this.x(y) - (width * this.scale) / 2),
      y: round(this.y(z + height)),
      width: round(width * this.scale),
      height: round(height * this.scale),
      class: kind,
    });
  }
}

export function frame(board) {
  const { rails, tube, height } = board.at;
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
  const { tube: low, out, offset } = board.at;
  const tube = low + lift;
  const left = out.left - offset + shift;
  const right = -(out.right + offset) + shift;
  return [
    s('rect', {
      x: round(Math.min(board.x(left), board.x(right))),
      y: round(board.y(tube + TUBE)),
      width: round(Math.abs(board.x(left) - board.x(right))),
      height: round(2 * TUBE * board.scale),
      class: 'mass',
    }),
    s('circle', {
      cx: round(board.x(shift)),
      cy: round(board.y(tube)),
      r: round(135 * board.scale),
      class: 'mass',
    }),
    board.box(left + TIRE / 2 + 20, lift, TIRE, 2 * low, 'line'),
    board.box(right - TIRE / 2 - 20, lift, TIRE, 2 * low, 'line'),
    line(board.x(-board.half), board.y(lift), board.x(board.half), board.y(lift), 'fine'),
  ];
}

function ends(board, shift, lift = 0) {
  const { bar, arc, offset, rails } = board.at;
  const sign = bar.frame_end === 'left' ? 1 : -1;
  const frameEnd = sign * (bar.frame_end_from_center ?? rails / 2 - 20);
  return {
    from: [frameEnd, bar.frame_height],
    to: [frameEnd - sign * arc.run - offset + shift, bar.axle_height + lift],
  };
}

/** @param {number[]} at */
function dot(board, at, r, kind) {
  const [y, z] = at;
  return s('circle', { cx: round(board.x(y)), cy: round(board.y(z)), r, class: kind });
}

/** @param {{from: number[], to: number[]}} at */
function rod(board, at, kind) {
  const { from, to } = at;
  return line(board.x(from[0]), board.y(from[1]), board.x(to[0]), board.y(to[1]), kind);
}

/** The bar between its bolts, with the axle moved by a shift and a lift. */
export function barAt(board, shift, lift) {
  const at = ends(board, shift, lift);
  return [rod(board, at, 'bar'), dot(board, at.from, 5, 'bolt'), dot(board, at.to, 5, 'bolt')];
}

/**
 * The drag link between its balls, drawn hollow: the pitman ball stands with the frame, the other
 * goes with the axle.
 */
export function linkAt(board, shift, lift = 0) {
  const { link, offset, out } = board.at;
  if (!link) return null;
  const sign = link.frame_end === 'left' ? 1 : -1;
  const knuckle = -sign * (out[sign > 0 ? 'right' : 'left'] - BALL_IN);
  const at = {
    from: [knuckle + sign * dragLink.link_run(link), link.frame_height],
    to: [knuckle - offset + shift, link.axle_height + lift],
  };
  return [
    rod(board, at, 'link'),
    rod(board, at, 'link-core'),
    dot(board, at.from, 4.5, 'shape'),
    dot(board, at.to, 4.5, 'shape'),
  ];
}

/**
 * Which of the two links is which, below a drawing of this height; nothing where there is no drag
 * link to tell apart.
 */
export function legend(board, height) {
  if (!board.at.link) return { height, parts: null };
  const y = height + 12;
  const named = (x, text) => words(x, height + 4, text, '', 'start', true);
  return {
    height: height + 28,
    parts: [
      board.at.arc && [line(8, y, 42, y, 'bar'), named(50, 'track bar')],
      line(172, y, 206, y, 'link'),
      line(172, y, 206, y, 'link-core'),
      named(214, 'drag link'),
    ],
  };
}

// The same mark as in the interval figure: where it will be after the change.
/** @param {number[]} at */
function cross(board, at) {
  const [y, z] = at;
  return s('path', {
    d: `M${round(board.x(y) - 5)} ${round(board.y(z) - 5)}l10 10m0-10l-10 10`,
    class: 'after',
  });
}

// Clear of the bar, of the wheels beside its ends and of the bracket above the frame end; further
// off where a drag link lies beside it.
/** @param {number[]} at */
function label(board, at, text, under) {
  const [y, z] = at;
  const off = board.at.link ? 20 : 8;
  const { out, offset } = board.at;
  // A letter is about so wide; between the wheels there is room for the whole label.
  const wheels = (Math.min(out.left, out.right) - Math.abs(offset)) * board.scale;
  const reach = Math.max(0, wheels - text.length * 5);
  const x = Math.max(WIDTH / 2 - reach, Math.min(WIDTH / 2 + reach, board.x(y)));
  return words(x, board.y(z) + (under ? off : -off), text, 'lit', 'middle', under);
}

function trackBar(board, shift, then) {
  if (!board.at.arc) return [];
  const now = ends(board, shift);
  const after = then === null ? null : ends(board, then).to;
  const side = board.at.bar.frame_end === 'left' ? 1 : -1;
  const rail = [
    side * (board.at.rails / 2 - RAIL.width / 2),
    board.at.tube + TUBE + board.at.height[board.at.bar.frame_end] + 20,
  ];
  return [
    rod(board, { from: rail, to: now.from }, 'line'),
    barAt(board, shift),
    after && cross(board, after),
    label(board, now.from, 'frame end', true),
    label(board, now.to, 'axle end', false),
  ];
}

function moveArrow(board, shift) {
  const { offset, tube, state, advised, unit } = board.at;
  if (!advised || Math.abs(offset) < 0.5) return [];
  const [x1, x2, y] = [board.x(shift), board.x(0), board.y(tube - TUBE - 60)];
  const tip = Math.sign(x2 - x1);
  return [
    s(
      'g',
      { class: `is-${state}` },
      line(x1, y, x2 - tip * 4, y, 'whisker'),
      s('path', { d: `M${round(x2)} ${round(y)}l${-tip * 10} -6v12z`, class: 'dot' }),
      words(
        WIDTH / 2,
        y + 7,
        `move ${lengths.show_length(Math.abs(offset), unit)} to the ${terms.side_of(-offset)}`,
        'verdict',
        'middle',
        true,
      ),
    ),
  ];
}

/** How much the sideways move is enlarged in the drawing of these data. */
export function enlarged(data) {
  return enlargement(places(data));
}

/** The drawing of a `sheet` and its `findings`. */
export function draw(data, { flip = false } = {}) {
  const at = places(data);
  const times = enlargement(at);
  const board = new Board(at, flip);
  const shift = at.offset * times;
  const then = at.then === null ? null : at.then * times;
  const { height, parts } = legend(board, board.height);
  return drawing(
    WIDTH,
    height,
    spoken(at, flip),
    corners(WIDTH, flip),
    axle(board, shift),
    frame(board),
    linkAt(board, shift),
    trackBar(board, shift, then),
    moveArrow(board, shift),
    parts,
  );
}

function spoken({ bar, link, offset, unit }, flip) {
  const seen = flip ? 'from the front' : 'from behind';
  const end = [['track bar', bar], ['drag link', link]].map((
    [name, each],
  ) => (each?.frame_end ? `, ${name} with its frame end on the ${each.frame_end}` : '')).join('');
  return `The axle ${seen}${end}; it sits ${terms.toward(offset, unit)}`;
}

/** The heading of the drawing: from where it is seen and how it is enlarged. */
export function caption(data, { flip = false } = {}) {
  const times = enlarged(data);
  const seen = flip ? 'From the front, to scale' : 'From behind, to scale';
  return times > 1 ? `${seen}; the offset is drawn ${times} times larger` : seen;
}
