"""What the pages that are printed have in common: their colours and type, in one style sheet."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from markupsafe import Markup

HERE = Path(__file__).parent


def style(*own: Path, rules: str = "") -> Markup:
    """What goes between the tags of `style`: what pages share, a page's `own` files, and `rules`.

    No user's text may be in it: it is not escaped.
    """
    from markupsafe import Markup

    texts = (path.read_text(encoding="utf-8") for path in (HERE / "paper.css", *own))
    return Markup("\n".join((*texts, rules)))  # noqa: S704 - ours
