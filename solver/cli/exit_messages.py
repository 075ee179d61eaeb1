"""How every command ends: with one message and the right code, whatever happened.

Never with a traceback, and never with 1 but for what is proven impossible: Python's own code for
an error that nobody caught is 1 too.
"""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import NoReturn

import click

from solver.cli.exits import FAULT, INTERRUPTED, READER_GONE
from solver.cli.interrupt import leave
from solver.cli.output import close_streams, complain
from solver.errors import BadInput, EquipourError, Failure, is_interrupt
from solver.printable import printable


@contextmanager
def ended_well(context: click.Context) -> Iterator[None]:
    """Turn whatever ends the body early into a message, and the code that the command exits with.

    Raises:
        click.exceptions.Exit: with that code.
    """
    try:
        yield
        close_streams()
    except (click.exceptions.Exit, click.exceptions.NoArgsIsHelpError):
        raise
    except SystemExit:
        close_streams()
        raise
    except click.UsageError as error:
        _end(context, _about_usage(error, context), BadInput.exit_code)
    except BaseException as error:
        _end(context, sentence_of(error), code_of(error))


def _end(context: click.Context, sentence: str, code: int) -> NoReturn:
    if sentence:
        complain(sentence)
    close_streams()
    context.exit(code)


def code_of(error: BaseException) -> int:
    """The exit code after an error."""
    if isinstance(error, EquipourError):
        return error.exit_code
    if is_interrupt(error):
        return INTERRUPTED
    if isinstance(error, BrokenPipeError):
        return READER_GONE
    if isinstance(error, RecursionError):
        return BadInput.exit_code
    if isinstance(error, MemoryError | OSError | ImportError):
        return Failure.exit_code
    return FAULT


def sentence_of(error: BaseException) -> str:
    """What is said of an error; nothing of a reader who has gone."""
    if isinstance(error, EquipourError):
        return str(error)
    if is_interrupt(error):
        return "interrupted"
    if isinstance(error, BrokenPipeError):
        return ""
    if isinstance(error, RecursionError):
        return "something in a file nests too deeply."
    if isinstance(error, MemoryError):
        return "there is not enough memory."
    if isinstance(error, OSError):
        named = isinstance(error.filename, str | bytes)
        where = f" ({printable(os.fsdecode(error.filename))})" if named else ""
        return f"the system refuses{where}: {(error.strerror or '').lower()}."
    if isinstance(error, ImportError):
        return f"a part of the installation cannot be loaded: {error}."
    return _about_fault(error)


def _about_fault(error: BaseException) -> str:
    """A fault of ours: what it was and where, for a report."""
    trace = error.__traceback__
    while trace is not None and trace.tb_next is not None:
        trace = trace.tb_next
    place = ""
    if trace is not None:
        place = f" at {trace.tb_frame.f_code.co_filename}, line {trace.tb_lineno}"
    what = f"{type(error).__name__}: {error}".removesuffix(": ")
    return f"this is a fault of equipour, nothing was proven. Please report it: {what}{place}."


def _about_usage(error: click.UsageError, context: click.Context) -> str:
    """A slip in the options, said as every other mistake."""
    said, _, near = error.format_message().partition(" Did you mean ")
    help_text = f"See {(error.ctx or context).command_path} --help."
    remedy = f"Did you mean {near} {help_text}" if near else help_text
    return str(BadInput(f"{said[:1].lower()}{said[1:].rstrip('.')}", remedy=remedy))


@contextmanager
def raising_interrupts() -> Iterator[None]:
    """Let an interrupt raise KeyboardInterrupt, for what can make something of it."""
    ours = signal.getsignal(signal.SIGINT) is leave
    if ours:
        signal.signal(signal.SIGINT, signal.default_int_handler)
    try:
        yield
    finally:
        if ours:
            signal.signal(signal.SIGINT, leave)


def end_at_once(error: BaseException) -> NoReturn:
    """End the process after an error outside any command."""
    if said := sentence_of(error):
        complain(said)
    close_streams()
    sys.exit(code_of(error))
