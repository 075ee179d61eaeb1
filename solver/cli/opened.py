"""Bars that stay open between one question and the next, for as long as their files do."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from solver.pantry.bar import Bar


class OpenBars:
    """The bars that were opened; one whose files have changed is opened anew."""

    def __init__(self) -> None:
        self._bars: dict[object, tuple[object, Bar]] = {}

    def bar(self, root: Path | None, how: object, load: Callable[[], Bar]) -> Bar:
        """The bar in a folder, loaded `how` it was asked for.

        Raises:
            BadInput, BadInputs: a file is wrong, or can't be read.
        """
        from solver.pantry.load_bar import versions

        now = versions(root)
        before = self._bars.get((root, how))
        if before is not None and before[0] == now:
            return before[1]
        bar = load()
        self._bars[root, how] = (now, bar)
        return bar


def open_bar(root: Path | None, how: object, load: Callable[[], Bar]) -> Bar:
    """The bar of a command: one that is open already, where questions follow each other."""
    kept = click.get_current_context().find_root().obj
    return kept.bar(root, how, load) if isinstance(kept, OpenBars) else load()
