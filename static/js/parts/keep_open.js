/** What a person has opened, scrolled to or stands on, kept when the same screen is drawn again. */

// Fields of text are left out: a screen is drawn again under one only once it was kept, and then it
// is done with.
const FOCUSABLE = 'a, button, select, summary, [type=checkbox], [type=radio]';
const STEPS = '.places';

/** How one element of a screen is told from its like. */
function signOf(element) {
  return [
    element.localName,
    element.name,
    element.type === 'checkbox' ? '' : element.value,
    element.getAttribute('href'),
    element.getAttribute('aria-label') ?? element.textContent,
  ].join('|');
}

/** How a fold is told: by its title, without how many things are open in it. */
function titleOf({ firstElementChild: summary }) {
  return (summary.firstElementChild ?? summary).textContent;
}

function bySign(root, selector, sign) {
  return [...root.querySelectorAll(selector)].find((each) => signOf(each) === sign);
}

/**
 * Notes which folds are open or shut, how far the bar of steps is scrolled and where the focus is;
 * the answer puts all of it back into what is drawn since.
 */
export function keepOpen(root) {
  const folds = new Map(
    [...root.querySelectorAll('details')].map((fold) => [titleOf(fold), fold.open]),
  );
  const scrolled = root.querySelector(STEPS)?.scrollLeft;
  const focused = document.activeElement;
  const sign = root.contains(focused) && focused.matches(FOCUSABLE) ? signOf(focused) : null;
  return () => {
    for (const fold of root.querySelectorAll('details')) {
      fold.open = folds.get(titleOf(fold)) ?? fold.open;
    }
    const bar = root.querySelector(STEPS);
    if (bar && scrolled !== undefined) bar.scrollLeft = scrolled;
    if (sign !== null) bySign(root, FOCUSABLE, sign)?.focus({ preventScroll: true });
  };
}
