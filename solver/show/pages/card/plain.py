"""Cards as plain text, for a terminal, a message or a printer without fonts."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence

from solver.show.pages.card.page import GaugeWords, Page

WIDTH = 64
SCALE = 33
"""Characters of a gauge."""


def cards_text(pages: Sequence[Page], title: str, *, book: bool) -> str:
    """Some cards under each other; a `book` begins with their names."""
    parts = [_card(page) for page in pages]
    if book and pages:
        names = [
            row
            for number, page in enumerate(pages, start=1)
            for row in textwrap.wrap(
                page.name, WIDTH, initial_indent=f"{number:>3}  ", subsequent_indent=" " * 5
            )
        ]
        contents = pages[0].headings["contents"]
        parts.insert(0, "\n".join([*_wrapped(title), "", contents, *names]))
    return f"\n\n{'=' * WIDTH}\n\n".join(parts)


def _card(page: Page) -> str:
    first = max((len(pour.first) for pour in page.pours), default=0)
    second = max((len(pour.second) for pour in page.pours), default=0)
    lines = [*_wrapped(page.name), *_wrapped(page.taste), *_wrapped(page.serving), ""]
    for pour in page.pours:
        said = f"{pour.first:>{first}}  {pour.second:>{second}}  {pour.name}"
        lines += _wrapped(f"{said}, {pour.remark}" if pour.remark else said, first + second + 4)
    lines += ["", page.headings["method"]]
    for number, step in enumerate(page.steps, start=1):
        lines += _wrapped(f"{number}. {step}", 3)
    lines += ["", page.headings["glass_numbers"]]
    label = max((len(gauge.label) for gauge in page.gauges), default=0)
    for gauge in page.gauges:
        lines += [f"{gauge.label:<{label}}  {_gauge(gauge)}", f"{'':<{label}}  {_said(gauge)}"]
    lines += _wrapped(f"{page.volume}; {page.drinks}")
    lines += _wrapped(str(page.under)) if page.under else []
    lines += ["", page.headings["tells"]]
    lines += _listed((*(f"{line}." for line in page.tells), *map(str, page.cautions)))
    lines += _wrapped(page.defers)
    if page.kitchen:
        lines += ["", page.headings["kitchen"], *_listed(map(str, page.kitchen))]
    if page.house:
        lines += ["", page.headings["house"]]
        for each in page.house:
            said = "; ".join(filter(None, (str(each.inputs), str(each.steps), each.keeping)))
            lines += _wrapped(f"{each.name}: {said}", 2)
            for caution in each.cautions:
                lines += _wrapped(f"  - {caution}", 4)
        lines += _wrapped(page.planned)
    if page.notes:
        lines += ["", page.headings["notes"], *_wrapped(str(page.notes))]
    foot = "; ".join(filter(None, (page.cost, page.dates)))
    lines += ["", *_wrapped(foot)] if foot else []
    return "\n".join(line.rstrip() for line in lines)


def _gauge(gauge: GaugeWords) -> str:
    """The scale as a row of characters: dots, the band as equals signs, the drink as a V."""
    row = ["."] * SCALE
    if gauge.band is not None:
        low, high = (round(share * (SCALE - 1)) for share in gauge.band)
        row[low : high + 1] = "=" * (high + 1 - low)
    row[round(gauge.at * (SCALE - 1))] = "V"
    return f"[{''.join(row)}]"


def _said(gauge: GaugeWords) -> str:
    return f"{gauge.value}, {gauge.verdict}" if gauge.verdict else gauge.value


def _listed(lines: Iterable[str]) -> list[str]:
    return [row for line in lines for row in _wrapped(f"- {line}", 2)]


def _wrapped(text: str, hang: int = 0) -> list[str]:
    return textwrap.wrap(text, WIDTH, subsequent_indent=" " * hang) or [""]
