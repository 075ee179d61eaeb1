"""Which folder is the bar's."""

from __future__ import annotations

import os
from pathlib import Path

import click


def bar_folder(context: click.Context, own: Path | None) -> Path | None:
    """The folder of `--bar` after the command, else before it, else of the environment, or found.

    Raises:
        BadInput: the folder asked for has no bar.toml.
    """
    from solver.pantry.folders import find_bar

    above: click.Context | None = context
    asked = own
    while asked is None and above is not None:
        asked = above.params.get("folder")
        above = above.parent
    return find_bar(here(), asked, os.environ.get("EQUIPOUR_BAR"))


def here() -> Path | None:
    """The folder that one stands in; None where it was removed."""
    try:
        return Path.cwd()
    except OSError:
        return None
