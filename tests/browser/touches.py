"""Counts what a hand does on the phone: touches, and swipes that bring something into sight."""

from playwright.sync_api import Page

# A touch is a finger put down on the glass, or a field written or chosen without one, as a keyboard
# does that has come up by itself; what is typed on the phone's own keyboard is one with its field.
# A swipe is a touch on a page that the app did not leave where it is then.
COUNTING = """
  globalThis.touches = 0;
  globalThis.swipes = [];
  let touched = null;
  let left = 0;
  const settle = () => { left = scrollY; };
  for (const [thing, name] of [[globalThis, 'scrollTo'], [Element.prototype, 'scrollIntoView']]) {
    const own = thing[name];
    thing[name] = function (...given) {
      own.apply(this, given);
      settle();
    };
  }
  // Where what is aimed at has moved, the driver stops its touch at the window and aims again.
  document.addEventListener('pointerdown', ({ target }) => {
    touches += 1;
    touched = target;
    if (Math.abs(scrollY - left) > 4) swipes.push(target.textContent || target.outerHTML);
    settle();
  }, true);
  addEventListener('input', ({ target }) => {
    const writes = target.matches('select, textarea, input:not([type=radio], [type=checkbox])');
    if (writes && target !== touched) touches += 1;
    touched = target;
  }, true);
  const draws = new MutationObserver(() => requestAnimationFrame(settle));
  addEventListener('DOMContentLoaded', () => {
    draws.observe(document.body, { childList: true, subtree: true });
  });
"""


class Touches:
    """The touches and swipes on a page, from when this is made to the present."""

    def __init__(self, page: Page) -> None:
        """Begin to count; COUNTING has to be among the page's first scripts."""
        self.page = page
        page.evaluate("touches = 0; swipes = []")

    @property
    def count(self) -> int:
        """How often the glass was touched."""
        return int(self.page.evaluate("touches"))

    @property
    def swipes(self) -> list[str]:
        """What was touched that had to be brought into sight first."""
        return list(self.page.evaluate("swipes"))
