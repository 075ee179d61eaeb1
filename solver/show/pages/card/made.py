"""Cards as files: from specs to the bytes of a form."""

from __future__ import annotations

import datetime
from collections.abc import Sequence

from solver.drinks.assess import assess
from solver.drinks.card import Reader, card_of
from solver.pantry.bar import Bar
from solver.pantry.spec import Spec
from solver.show.pages.card.page import Page, page_of
from solver.show.words import Words
from solver.tasks.prep.house_recipes import house_of


def cards_as(
    form: str, specs: Sequence[Spec], bar: Bar, reader: Reader, words: Words,
    today: datetime.date, *, size: str, book: bool,
) -> bytes:  # fmt: skip
    """Cards of some specs as "txt", "html", "svg" (of one alone) or "pdf".

    Raises:
        BadInput, BadInputs: a spec is wrong; or a PDF cannot be made here.
    """
    cards = [
        card_of(found, bar, reader, today, house_of(found.lines, bar))
        for found in (assess(spec, bar) for spec in specs)
    ]
    pages = [page_of(card, bar, words, number) for number, card in enumerate(cards, start=1)]
    title = bar.name if book and bar.name else ", ".join(page.name for page in pages)
    return _as(form, pages, title, size=size, book=book)


def _as(form: str, pages: Sequence[Page], title: str, *, size: str, book: bool) -> bytes:
    if form == "txt":
        from solver.show.pages.card.plain import cards_text

        return f"{cards_text(pages, title, book=book)}\n".encode()
    if form == "svg":
        from solver.show.pages.card.vector import card_svg

        return card_svg(pages[0]).encode()
    from solver.show.pages.card.html import cards_html

    html = cards_html(pages, title, size=size, book=book)
    if form == "html":
        return html.encode()
    from solver.show.pages.pdf import printed

    return printed(html)
