/**
 * The interval figure: a decided number with its whiskers against the band of its limit.
 * Left is drawn on the left, as seated in the vehicle.
 */

import { corners, drawing, line, lines, round, s, words } from '../dom.js';
import { lengths, plan_rows as planRows, terms } from '../reckon.js';

const WIDTH = 328;

/** Where an offset in mm stands across the figure. */
function scaleFor({ offset, expanded, limit, after }, flip, margin) {
  const reach = Math.max(limit * 1.7, Math.abs(offset) + expanded, Math.abs(after ?? 0)) * 1.06;
  const sign = flip ? 1 : -1;
  return (mm) => WIDTH / 2 + sign * mm * ((WIDTH / 2 - margin) / reach);
}

function band(x, { limit, held }, top, height) {
  const [a, b] = [x(limit), x(-limit)].sort((m, n) => m - n);
  return [
    s('rect', { x: round(a), y: top, width: round(b - a), height, class: held ? 'mass' : 'band' }),
    lines(
      [[a, top - 5, a, top + height + 5], [b, top - 5, b, top + height + 5]],
      held ? 'limit-held' : 'limit',
    ),
    line(WIDTH / 2, top - 7, WIDTH / 2, top + height + 7, 'dots'),
  ];
}

function mark(x, data, y, size) {
  const { offset, expanded, state, held } = data;
  const [a, b] = [x(offset - expanded), x(offset + expanded)];
  const judged = ['inside', 'outside', 'too_close'].includes(state);
  return s(
    'g',
    { class: `is-${terms.verdict_color(state, held)}` },
    lines([[a, y, b, y], [a, y - size, a, y + size], [b, y - size, b, y + size]], 'whisker'),
    s('circle', { cx: round(x(offset)), cy: y, r: size * 0.8, class: judged ? 'dot' : 'open-dot' }),
  );
}

function cross(x, after, y) {
  const at = x(after);
  return s('path', { d: `M${round(at - 5)} ${y - 5}l10 10m0-10l-10 10`, class: 'after' });
}

// Labels in one row, each [at, text, kind], the first that matter most: what has no room beside
// them is left out.
function labels(wanted, y) {
  const taken = [];
  return wanted.map(([at, text, kind]) => {
    // A letter is at most so wide, in the largest text of a drawing.
    const half = text.length * 5.5;
    const x = Math.max(half, Math.min(WIDTH - half, at));
    if (taken.some(([other, room]) => Math.abs(x - other) < half + room + 4)) return null;
    taken.push([x, half]);
    return words(x, y, text, kind, 'middle', true);
  });
}

function spoken(data) {
  const { offset, expanded, limit, after, unit, state, held } = data;
  const known = terms.known_to(expanded, unit).replace('\u00b1', 'plus or minus ');
  const now = `${terms.toward(offset, unit)}, ${known}, ` +
    `limit ${lengths.show_limit(limit, unit)} each way: ${terms.verdict_said(state, held)}`;
  return after === null || after === undefined
    ? now
    : `${now}. After the change ${terms.toward(after, unit)}`;
}

/**
 * The figure of {offset, expanded, limit, state, held, after} in mm, its words in `unit`; small, it
 * is one line of a list.
 */
export function draw(data, { small = false, flip = false } = {}) {
  const { limit, after = null, offset, unit, state, held } = data;
  if (small) {
    const x = scaleFor(data, flip, 8);
    return drawing(WIDTH, 30, spoken(data), ...band(x, data, 8, 14), mark(x, data, 15, 7));
  }
  const x = scaleFor(data, flip, 14);
  return drawing(
    WIDTH,
    84,
    spoken(data),
    corners(WIDTH, flip),
    band(x, data, 26, 26),
    after !== null && cross(x, after, 39),
    mark(x, data, 39, 8),
    s(
      'g',
      { class: `is-${terms.verdict_color(state, held)}` },
      labels(
        [
          [x(offset), terms.verdict_said(state, held), 'verdict'],
          [x(limit), planRows.size_words(limit, unit)],
          [x(-limit), planRows.size_words(limit, unit)],
          after !== null && [x(after), 'after'],
        ].filter(Boolean),
        61,
      ),
    ),
  );
}

/** What the figure needs from findings, or null where there is no offset. */
export function fromFindings(findings) {
  const found = findings?.centering;
  if (!found || found.offset === undefined || found.offset === null) return null;
  const advised = findings.advice?.state;
  const turn = advised === 'adjust' ? findings.bar_change?.counted_leftover : null;
  return {
    offset: found.offset,
    expanded: found.expanded,
    limit: found.limit,
    state: found.state,
    held: advised === 'hold',
    after: turn ?? null,
    unit: findings.units,
  };
}
