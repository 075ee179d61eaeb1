"""Text of the user's, made fit to print: the only way in which it reaches a terminal.

A name or a path can hold control and escape characters, marks that turn the order of letters
round, and bytes that are no text. Printed as they are, they could change what a terminal shows.
"""

from __future__ import annotations


def printable(text: str, keep: str = "") -> str:
    """`text` with everything that cannot be printed written out, like \\x1b; `keep` stays.

    Spaces of other widths become plain ones.
    """
    if text.translate(dict.fromkeys(map(ord, keep))).isprintable():
        return text
    return "".join(c if c in keep or c.isprintable() else _written_out(c) for c in text)


def _written_out(character: str) -> str:
    import unicodedata  # slow to import, and seldom needed

    if unicodedata.category(character) == "Zs":
        return " "
    return character.encode("unicode_escape").decode()


def short(text: str, most: int = 40) -> str:
    """`text` on one line and short enough to repeat in a sentence."""
    clean = "".join(c if c.isprintable() else " " for c in " ".join(text.split()))
    return clean if len(clean) <= most else f"{clean[:most]}…"
