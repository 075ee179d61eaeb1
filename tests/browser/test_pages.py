"""Pages in a real browser: nothing sticks out, is cut off, runs, calls or shuts anybody out."""

from __future__ import annotations

import re

import pytest
from axe_playwright_python.sync_playwright import Axe

from tests.browser.conftest import Window
from tests.browser.written import BOOKS, NAMES, PICTURES, SHOWN, Written

pytestmark = pytest.mark.browser

WIDTHS = (320, 390, 768, 1280)
STICKS_OUT = """() => [...document.querySelectorAll('body *')]
  .filter(e => !e.parentElement.closest('[tabindex="0"]'))
  .filter(e => { const box = e.getBoundingClientRect();
    return box.width && (box.right > innerWidth + 0.5 || box.left < -0.5); })
  .map(e => e.outerHTML.slice(0, 120))"""
"""Elements that are in part beside the window, but for a picture that the keys can scroll. At 320
pixels this is also a window of 640 at 200 % (WCAG 2.2, success criterion 1.4.10: content reflows at
a width of 320 CSS pixels, but for what needs two dimensions)."""
CUT_OFF = """() => [...document.querySelectorAll('body *')]
  .filter(e => getComputedStyle(e).overflow !== 'visible' && e.tabIndex < 0)
  .filter(e => !(e instanceof SVGElement) && e.scrollWidth > e.clientWidth + 1)
  .map(e => e.outerHTML.slice(0, 120))"""
"""What hides a part of itself and can't be scrolled with the keys."""
OVERLAP = """() => {
  const boxes = [];
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    if (!walk.currentNode.data.trim() || walk.currentNode.parentElement.closest('svg')) continue;
    const range = document.createRange();
    range.selectNodeContents(walk.currentNode);
    for (const box of range.getClientRects())
      boxes.push([box, walk.currentNode.data.trim().slice(0, 40)]);
  }
  boxes.sort((a, b) => a[0].top - b[0].top);
  const found = [];
  for (let i = 0; i < boxes.length; i++)
    for (let j = i + 1; j < boxes.length && boxes[j][0].top < boxes[i][0].bottom; j++) {
      const [a, b] = [boxes[i][0], boxes[j][0]];
      const wide = Math.min(a.right, b.right) - Math.max(a.left, b.left);
      const high = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
      if (wide > 1 && high > 0.4 * Math.min(a.height, b.height))
        found.push(boxes[i][1] + ' | ' + boxes[j][1]);
    }
  return found; }"""
"""Words that are printed over each other."""
SQUEEZED = """() => [...document.querySelectorAll('tbody th, .told, li > span, li > div')]
  .filter(e => e.textContent.trim().length > 12)
  .filter(e => e.getBoundingClientRect().width < 5 * parseFloat(getComputedStyle(e).fontSize))
  .map(e => e.outerHTML.slice(0, 120))"""
"""Words in so little room that they are broken."""
COLOURS = """() => [...new Set([...document.querySelectorAll('body, body *')].flatMap(e => {
  const look = getComputedStyle(e);
  const drawn = [look.fill, look.stroke].filter(each => e.closest('svg') && each !== 'none');
  return [look.color, look.borderTopColor, ...drawn]; }))]"""
OUTSIDE = """() => { const sheet = document.documentElement.viewBox.baseVal;
  return [...document.querySelectorAll('text')].filter(e => { const box = e.getBBox();
    return box.x < 0 || box.x + box.width > sheet.width || box.y + box.height > sheet.height; })
  .map(e => e.textContent); }"""
OVER = """() => { const all = [...document.querySelectorAll('text')].map(e => [e, e.getBBox()]);
  return all.flatMap(([a, one], k) => all.slice(k + 1).filter(([b, two]) =>
    Math.min(one.x + one.width, two.x + two.width) - Math.max(one.x, two.x) > 1 &&
    Math.min(one.y + one.height, two.y + two.height) - Math.max(one.y, two.y) > 0.4 * one.height)
  .map(([b]) => a.textContent + ' | ' + b.textContent)); }"""


@pytest.mark.parametrize("name", SHOWN)
def test_nothing_sticks_out_of_a_window_of_any_width(
    written: dict[str, Written], window: Window, name: str
) -> None:
    for width in WIDTHS:
        window.open(written[name].path, width)
        wide = window.page.evaluate("document.documentElement.scrollWidth")
        assert wide <= width, (width, window.page.evaluate(STICKS_OUT))
        for fault in (STICKS_OUT, CUT_OFF, OVERLAP, SQUEEZED):
            assert window.page.evaluate(fault) == [], width


@pytest.mark.parametrize("name", SHOWN)
def test_letters_twice_as_large_stick_out_of_nothing(
    written: dict[str, Written], window: Window, name: str
) -> None:
    """WCAG 2.2, success criterion 1.4.4: text can be enlarged to 200 %."""
    window.open(written[name].path, 768)
    window.page.evaluate("document.documentElement.style.fontSize = '200%'")
    for fault in (STICKS_OUT, CUT_OFF, OVERLAP, SQUEEZED):
        assert window.page.evaluate(fault) == []


@pytest.mark.parametrize("name", SHOWN)
def test_a_page_runs_nothing_and_asks_for_nothing(
    written: dict[str, Written], window: Window, name: str
) -> None:
    window.open(written[name].path)
    assert window.asked == [written[name].path.as_uri()]
    assert window.said == []
    runs = "[...document.querySelectorAll('*')].filter(e => e.matches('script, iframe, object, "
    runs += "embed, link, form, base') || [...e.attributes].some(a => a.name.startsWith('on')))"
    assert window.page.evaluate(f"{runs}.length") == 0


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
@pytest.mark.parametrize("name", SHOWN)
def test_a_checker_of_accessibility_finds_nothing(
    written: dict[str, Written], window: Window, name: str, dark: bool
) -> None:
    """Every rule of axe-core (WCAG 2.2 A and AA, and what it calls best practice)."""
    window.open(written[name].path, 390 if dark else 768, dark=dark)
    found = Axe().run(window.page).response
    faults = [
        (each["id"], each["help"], [node["html"][:120] for node in each["nodes"][:3]])
        for each in found["violations"]
    ]
    assert faults == []


@pytest.mark.parametrize("name", NAMES)
def test_a_page_is_printed_on_as_many_sheets_as_it_should(
    written: dict[str, Written], window: Window, name: str
) -> None:
    window.open(written[name].path, print_=True)
    pdf = window.page.pdf(format="A4", prefer_css_page_size=True)
    assert len(re.findall(rb"/Type\s*/Page\b", pdf)) == written[name].sheets


@pytest.mark.parametrize("name", BOOKS)
def test_each_sheet_of_a_book_is_headed_by_its_drink(
    written: dict[str, Written], window: Window, name: str
) -> None:
    """The table of contents has the names in the order in which the sheets have them."""
    window.open(written[name].path, print_=True)
    names = window.page.locator(".contents a").all_inner_texts()
    assert window.page.locator(".card .name").all_inner_texts() == names
    for link in window.page.locator(".contents a").all():
        target = link.get_attribute("href") or ""
        assert window.page.locator(f"{target} .name").inner_text() == link.inner_text()


@pytest.mark.parametrize("name", [name for name in SHOWN if not name.startswith("plan")])
def test_print_needs_no_colours(written: dict[str, Written], window: Window, name: str) -> None:
    """Of a plan's picture each line has dashes of its own (tests/test_chart.py)."""
    window.open(written[name].path, print_=True)
    colours = window.page.evaluate(COLOURS)
    assert colours
    for colour in colours:
        red, green, blue = re.findall(r"[\d.]+", colour)[:3]
        assert red == green == blue, colour


@pytest.mark.parametrize("spec", PICTURES)
def test_a_card_as_a_picture_holds_all_its_words(
    written: dict[str, Written], window: Window, spec: str
) -> None:
    window.open(written[f"{spec}.svg"].path, 1280)
    assert window.page.evaluate(OUTSIDE) == []
    assert window.page.evaluate(OVER) == []
    assert window.asked == [written[f"{spec}.svg"].path.as_uri()]
