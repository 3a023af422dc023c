"""What every screen must pass: accessible, within the glass, nothing cut off, large targets."""

from typing import Any

from axe_playwright_python.sync_playwright import Axe
from legible import GROWN, LEAST_DRAWN, bad_labels, small_texts
from playwright.sync_api import Page

EVERY_RULE = {"resultTypes": ["violations"]}
# What one theme can have wrong where the other is right.
RULES_OF_COLOR = {**EVERY_RULE, "runOnly": ["color-contrast", "link-in-text-block"]}
WIDTHS = (320, 360, 414, 768)
PHONE = {"width": 360, "height": 800}
LANDSCAPE = {"width": 800, "height": 360}
TEXT_OF = "(size) => { document.documentElement.style.fontSize = size; }"
TARGETS = "button, a.row, a.button, .pick, .tick, summary, .places a"
SMALL_TARGETS = """(targets) => [...document.querySelectorAll(targets)]
  .filter((element) => element.checkVisibility())
  .map((element) => [element.getBoundingClientRect(), element.textContent.trim()])
  .filter(([box]) => box.width > 0 && (box.height < 47.5 || box.width < 44))
  .map(([box, words]) => `${words}: ${Math.round(box.width)} x ${Math.round(box.height)}`)"""
# What is there for screen readers alone is clipped on purpose; a line of text scrolls in its field.
CUT_OFF = """() => [...document.querySelectorAll('body *:not(svg *)')].filter((element) => {
  const style = getComputedStyle(element);
  const hides = (way) => ['hidden', 'clip'].includes(style[`overflow-${way}`]);
  const {scrollWidth, clientWidth, scrollHeight, clientHeight} = element;
  const wide = hides('x') && scrollWidth > clientWidth + 1 && element.localName !== 'input';
  const button = element.localName === 'button' && scrollWidth > clientWidth + 1;
  const tall = hides('y') && scrollHeight > clientHeight + 1;
  return element.checkVisibility() && style.clipPath === 'none' && (wide || tall || button);
}).map((element) => `${element.localName}.${element.className}: ${element.textContent.trim()}`)"""

# What sticks out to the right of the glass, innermost last.
TOO_WIDE = """(width) => [...document.querySelectorAll('body *')]
  .filter((element) => element.getBoundingClientRect().right > width + 1)
  .map(({localName, className, textContent}) =>
    `${localName}.${className}: ${textContent.slice(0, 40)}`)
  .slice(-4)"""


class Inspector:
    """Looks at each screen that it is shown."""

    def __init__(self, page: Page) -> None:
        self.page = page

    def look(self, name: str) -> None:
        """Fail when this screen has an accessibility fault, is too wide, or too small to be read.

        Its colors are looked at in both themes, which differ in nothing else.
        It may be too wide for a phone, for one held across, or with text of twice the size, and
        nothing on it may be cut off then; a target, a text or a drawing's label may be too small.
        """
        self.page.set_viewport_size(PHONE)
        self.accessible(name, EVERY_RULE)
        self.page.emulate_media(color_scheme="dark")
        self.accessible(f"{name}, dark", RULES_OF_COLOR)
        self.page.emulate_media(color_scheme="light")
        for width in WIDTHS:
            self.page.set_viewport_size({"width": width, "height": 800})
            self.fits(name, width)
        self.page.set_viewport_size(LANDSCAPE)
        self.fits(name, 800)
        self.page.set_viewport_size(PHONE)
        self.reads(name)
        self.page.evaluate(TEXT_OF, "200%")
        for width in (320, 360):
            self.page.set_viewport_size({"width": width, "height": 800})
            self.fits(f"{name}, with text of twice the size,", width)
        self.reads(f"{name}, with text of twice the size,", LEAST_DRAWN * GROWN)
        self.page.evaluate(TEXT_OF, "")
        small = self.page.evaluate(SMALL_TARGETS, TARGETS)
        assert small == [], f"{name}: {small}"

    def accessible(self, name: str, options: dict[str, Any]) -> None:
        """Fail when the screen has a fault by these rules of the checker."""
        found = Axe().run(self.page, options=options)
        assert not found.response["violations"], f"{name}: {found.generate_report()}"

    def fits(self, name: str, width: int) -> None:
        """Fail when the screen is wider than that, or cuts something off, a drawing's label too."""
        wide = self.page.evaluate("document.documentElement.scrollWidth")
        out = self.page.evaluate(TOO_WIDE, width) if wide > width else []
        assert wide <= width, f"{name} is {wide} wide on a phone of {width}: {out}"
        cut = self.page.evaluate(CUT_OFF) + bad_labels(self.page)
        assert cut == [], f"{name}, {width} wide: {cut}"

    def reads(self, name: str, drawn: float = LEAST_DRAWN) -> None:
        """Fail when a text of the screen is too small to be read."""
        small = small_texts(self.page, drawn=drawn)
        assert small == [], f"{name}: {small}"
