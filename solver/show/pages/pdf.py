"""A page of HTML on paper, set by a library that prints it."""

from __future__ import annotations

from solver.errors import BadInput


def printed(html: str) -> bytes:
    """A page of HTML as PDF.

    Raises:
        BadInput: what prints it is not installed.
    """
    try:
        from weasyprint import HTML
    except (ImportError, OSError) as error:  # OSError: the system's text library is missing
        what = "PDF needs WeasyPrint, which is not there"
        remedy = "Run pip install 'equipour[pdf]', or print the page (.html) from a browser."
        raise BadInput(what, why=str(error).splitlines()[0], remedy=remedy) from None
    # Nothing is ever fetched: a page is one file, and a user's text may look like an address.
    document = HTML(string=html, url_fetcher=_refuse).render()
    return bytes(document.write_pdf())


def _refuse(url: str, *_: object, **__: object) -> dict[str, object]:
    message = f"a page fetches nothing, and {url} was asked for"
    raise ValueError(message)
