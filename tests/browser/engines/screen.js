// deno-lint-ignore-file no-unused-vars -- the script that comes behind it uses them
// Put before every script that a technician of any browser runs to look at the screen.

/** The words on an element, or those that a screen reader has instead. */
const wordsOn = (element) =>
  (element.getAttribute('aria-label') ?? element.textContent).replace(/\s+/g, ' ').trim();

/** What can be seen of a selector, with this text on it or, as a `whole`, no other. */
const seen = (css, text = '', whole = false) =>
  [...document.querySelectorAll(css)].filter((element) =>
    element.checkVisibility({ visibilityProperty: true }) &&
    (whole ? wordsOn(element) === text : wordsOn(element).includes(text))
  );

/** A point of the glass where a finger meets the element, or in words what it meets instead. */
const uncovered = (element, [x, y]) => {
  const met = document.elementFromPoint(x, y);
  return element.contains(met) ? [x, y] : `${met?.outerHTML.slice(0, 99)} lies over it`;
};

/**
 * Brings an element where no bar lies that sticks to an edge of the screen; its box there, or that
 * of its first line where it is a link that goes on in the next.
 */
const boxOf = (element) => {
  element.scrollIntoView({ block: 'center', inline: 'center', behavior: 'instant' });
  return element.getClientRects()[0];
};

/** The middle of an element, or in words why no finger reaches it. */
const middleOf = (element) => {
  const { x, y, width, height } = boxOf(element);
  return uncovered(element, [x + width / 2, y + height / 2]);
};

/** The middle of the only such element, or in words why no finger reaches it. */
const middle = (css, text, whole) => {
  const found = seen(css, text, whole);
  if (found.length !== 1) return `${found.length} of them are seen`;
  return found[0].disabled ? 'it is disabled' : middleOf(found[0]);
};

/** Where on the drawn tape the mark stands that is so far along the drawn stretch, from 0 to 1. */
const mark = (part) => {
  const [tape] = seen('svg.tape');
  if (!tape) return 'no tape is drawn';
  boxOf(tape);
  const marks = tape.querySelectorAll('.mark');
  const { x, y, height } = marks[part * (marks.length - 1)].getBoundingClientRect();
  return uncovered(tape, [x, y + height / 2]);
};

/** What no finger can touch that is there to be touched, each with what lies over it. */
const outOfReach = () =>
  seen('button, a, summary, select, textarea, .pick, .tick, input:not([type=radio], [type=file])')
    .filter((element) => !element.disabled)
    .map((element) => [element, middleOf(element)])
    .filter(([, place]) => typeof place === 'string')
    .map(([element, why]) => `${wordsOn(element) || element.outerHTML}: ${why}`);
