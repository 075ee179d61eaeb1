"""The first thing that runs: whatever happens while the rest is imported ends well, too.

Interrupts are heard from the first lines on, so little is imported here: `_signal` is what the
module `signal` dresses up with enumerations, at five times the price.
"""

from __future__ import annotations

import _signal  # type: ignore[import-not-found]  # in C: it has no stub
import gc
import os
import sys

from solver.cli.interrupt import leave

OBJECTS_BETWEEN_COLLECTIONS = 200_000
"""Some 80 MB; a bar that is open, with all that was imported, is half as many, and to walk them
takes 30 ms. Python's own 700 has it do so over and over."""


def start() -> None:
    """Run the command `equipour`."""
    gc.set_threshold(OBJECTS_BETWEEN_COLLECTIONS)
    interruptible = _signal.getsignal(_signal.SIGINT) is _signal.default_int_handler
    if interruptible:
        _signal.signal(_signal.SIGINT, leave)
        sys.unraisablehook = _heard
    try:
        from solver.cli.main import main
    except BaseException as error:  # no module is whole yet: nothing else can be relied on
        os.write(2, f"equipour: it cannot start: {type(error).__name__}: {error}\n".encode())
        os._exit(70)
    try:
        main(prog_name="equipour")
    except SystemExit:
        raise
    except BaseException as error:
        from solver.cli.exit_messages import end_at_once

        end_at_once(error)
    finally:
        gc.freeze()  # nothing is looked at for garbage once more: 30 ms of the interpreter's end
        if interruptible:  # the answer is given: what is left is the interpreter's own end
            _signal.signal(_signal.SIGINT, _signal.SIG_IGN)


def _heard(what: sys.UnraisableHookArgs) -> None:
    """Hear an interrupt that came where nothing can be raised, as in a callback."""
    if what.exc_type is KeyboardInterrupt:
        leave()
    sys.__unraisablehook__(what)
