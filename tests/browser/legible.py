"""What of a screen is too small to be read at arm's length, and drawings' labels that cannot be."""

from playwright.sync_api import Page

LEAST = 16.9  # CSS px: 17 with room for rounding
LEAST_DRAWN = 14.5  # labels of a drawing, which have no more room on the narrowest phones
GROWN = 1.1  # by how much those grow at least with text of twice the size
# The only texts that may be smaller, and why.
EXCEPTIONS = {".keys .alt": "six keys abreast leave a word no more than a share of the width"}
SMALL_TEXTS = """([least, drawn, exceptions]) => {
  const found = new Set();
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const text = walker.currentNode.textContent.trim();
    const holder = walker.currentNode.parentElement;
    const unseen = holder.closest('script, option, .hidden-words, .unseen');
    if (!text || unseen || !holder.checkVisibility()) continue;
    if (exceptions.some((each) => holder.closest(each))) continue;
    const svg = holder.ownerSVGElement;
    const scale = svg ? holder.getScreenCTM().a : 1;
    const size = parseFloat(getComputedStyle(holder).fontSize) * scale;
    if (size < (svg ? drawn : least)) found.add(`${text}: ${size.toFixed(1)} px`);
  }
  return [...found];
}"""
# A line of text is higher than its letters: boxes may meet by what is empty in them.
BAD_LABELS = """() => [...document.querySelectorAll('svg.fig')].flatMap((svg) => {
  const sheet = svg.getBoundingClientRect();
  if (!svg.checkVisibility() || !sheet.width) return [];
  const empty = 0.28;
  const labels = [...svg.querySelectorAll('text')].map((text) => {
    const {left, right, top, bottom} = text.getBoundingClientRect();
    const air = (bottom - top) * empty / 2;
    return {says: text.textContent, left, right, top: top + air, bottom: bottom - air};
  });
  const cut = labels.filter((each) => each.left < sheet.left - 1 || each.right > sheet.right + 1
    || each.top < sheet.top - 1 || each.bottom > sheet.bottom + 1);
  const meet = (a, b) => a.left < b.right && b.left < a.right
    && a.top < b.bottom && b.top < a.bottom;
  return [...cut.map(({says}) => `${says} is cut off`), ...labels.flatMap((one, index) =>
    labels.slice(index + 1).filter((other) => meet(one, other))
      .map(({says}) => `${one.says} on ${says}`))];
})"""


def small_texts(page: Page, least: float = LEAST, drawn: float = LEAST_DRAWN) -> list[str]:
    """Texts on the screen that are smaller than they may be, each with its size."""
    found: list[str] = page.evaluate(SMALL_TEXTS, [least, drawn, list(EXCEPTIONS)])
    return found


def bad_labels(page: Page) -> list[str]:
    """Labels of drawings that are cut off or lie on one another."""
    found: list[str] = page.evaluate(BAD_LABELS)
    return found
