"""The first thing that runs: whatever happens while the rest is imported ends well, too."""

from __future__ import annotations

import os
import signal
import sys
from types import FrameType


def start() -> None:
    """Run the command `equipour`."""
    interruptible = signal.getsignal(signal.SIGINT) is signal.default_int_handler
    if interruptible:
        signal.signal(signal.SIGINT, _leave)
    try:
        from solver.cli.main import main
    except BaseException as error:  # no module is whole yet: nothing else can be relied on
        os.write(2, f"equipour: it cannot start: {type(error).__name__}: {error}\n".encode())
        os._exit(70)
    try:
        if interruptible:
            signal.signal(signal.SIGINT, signal.default_int_handler)
        main(prog_name="equipour")
    except SystemExit:
        raise
    except BaseException as error:
        from solver.cli.ending import end_at_once

        end_at_once(error)
    finally:
        if interruptible:  # the answer is given: what is left is the interpreter's own end
            signal.signal(signal.SIGINT, signal.SIG_IGN)


def _leave(number: int, frame: FrameType | None) -> None:
    """End at once: nothing has been begun. Importers would swallow an exception, or print it."""
    del number, frame
    if sys.stderr is not None:
        os.write(2, b"equipour: interrupted\n")
    os._exit(130)
