/** Making elements: the one way in which pages and drawings are built. */

const SVG = 'http://www.w3.org/2000/svg';

function fill(element, attributes, children) {
  for (const [name, value] of Object.entries(attributes)) {
    if (value === null || value === undefined || value === false) continue;
    if (name.startsWith('on')) element.addEventListener(name.slice(2), value);
    else if (name === 'value') element.value = value;
    else element.setAttribute(name, value === true ? '' : value);
  }
  element.append(
    ...children.flat(Infinity).filter((child) =>
      child !== null && child !== undefined && child !== false
    ),
  );
  return element;
}

/** An HTML element; `on…` attributes are listeners; null, undefined or false leaves one out. */
export function h(tag, attributes = {}, ...children) {
  return fill(document.createElement(tag), attributes, children);
}

/** An SVG element. */
export function s(tag, attributes = {}, ...children) {
  return fill(document.createElementNS(SVG, tag), attributes, children);
}

/** A drawing of this size, described in words for who cannot see it. */
export function drawing(width, height, words, ...children) {
  return s('svg', {
    viewBox: `0 0 ${width} ${height}`,
    class: 'fig',
    role: 'img',
    'aria-label': words,
  }, ...children);
}

/**
 * A picture of what to measure; hidden from screen readers, as the question beside it says the
 * same.
 */
export function picture(...children) {
  return tallPicture(112, ...children);
}

/** The same with a height of its own. */
export function tallPicture(height, ...children) {
  return s(
    'svg',
    { viewBox: `0 0 328 ${height}`, class: 'fig', 'aria-hidden': 'true' },
    ...children,
  );
}

/** Lines of one kind as one shape, each [x1, y1, x2, y2]. */
export function lines(ends, kind) {
  return s('path', {
    d: ends.map(([x1, y1, x2, y2]) => `M${round(x1)} ${round(y1)}L${round(x2)} ${round(y2)}`).join(
      '',
    ),
    class: kind,
  });
}

/** A line from one point to another. */
export function line(x1, y1, x2, y2, kind = 'line') {
  return lines([[x1, y1, x2, y2]], kind);
}

/**
 * A text at a point; `anchor` is start, middle or end. With `under` the point is its top, however
 * large the text is.
 */
export function words(x, y, text, kind = '', anchor = 'start', under = false) {
  return s('text', {
    x: round(x),
    y: round(y),
    dy: under && '.85em',
    class: kind,
    'text-anchor': anchor,
  }, text);
}

/**
 * Which sides lie left and right in a drawing, in words in its corners, the first beginning at `x`.
 */
export function corners(width, flip, x = 4) {
  const [first, last] = flip ? ['right', 'left'] : ['left', 'right'];
  return [words(x, 2, first, '', 'start', true), words(width - 4, 2, last, '', 'end', true)];
}

/** A number short enough for a drawing. */
export function round(value) {
  return Math.round(value * 100) / 100;
}

/** A sentence in runs (plain and strong text in turn) as nodes. */
export function runs(parts) {
  return parts.map((text, index) => (index % 2 ? h('em', {}, text) : text));
}
