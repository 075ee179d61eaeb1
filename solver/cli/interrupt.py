"""What an interrupt does while nothing can be made of it; the first import, so it stays small."""

from __future__ import annotations

import os
import sys

TYPE_CHECKING = False
if TYPE_CHECKING:
    from types import FrameType


def leave(number: int = 0, frame: FrameType | None = None) -> None:
    """End at once: an exception would be swallowed by an importer, or printed by it."""
    del number, frame
    if sys.stderr is not None:
        os.write(2, b"equipour: interrupted\n")
    os._exit(130)
