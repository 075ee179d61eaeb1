"""A disk that refuses, interrupts or dies at a call of our choice."""

from __future__ import annotations

import enum
import errno
import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

import pytest

from solver.files import disk

CALLS = ("open", "write", "fchmod", "fsync", "link", "replace", "unlink", "close")
"""What `solver.files.disk` asks of the system."""


def _lose_no_power(_: int) -> None:
    """Stands in for fsync: whoever looks at these files sees what was written, synced or not."""


class Killed(BaseException):
    """The process is gone: no call reaches the disk any more, whatever is still run."""


@enum.unique
class Fault(enum.StrEnum):
    """What happens at the chosen call."""

    FULL = "the disk is full"
    BROKEN = "the disk fails after it did what was asked"
    INTERRUPT_BEFORE = "Ctrl-C before the call"
    INTERRUPT_AFTER = "Ctrl-C after the call"
    KILL_BEFORE = "kill -9 before the call"
    KILL_AFTER = "kill -9 after the call"
    KILL_WITHIN = "kill -9 in the middle of it"


KILLS = (Fault.KILL_BEFORE, Fault.KILL_AFTER, Fault.KILL_WITHIN)


class FaultyOs:
    """The module `os`, with a fault at the call number `at`, counted from 0."""

    def __init__(self, fault: Fault | None = None, at: int = -1) -> None:
        self.fault = fault
        self.at = at
        self.count = 0
        self.dead = False
        self.seen: list[str] = []

    def __getattr__(self, name: str) -> Any:
        real = _lose_no_power if name == "fsync" else getattr(os, name)
        return self._faulty(name, real) if name in CALLS else real

    def _faulty(self, name: str, real: Callable[..., Any]) -> Callable[..., Any]:
        def call(*args: Any) -> Any:
            number, self.count = self.count, self.count + 1
            self.seen.append(name)
            if self.dead:
                if name == "close":  # the system closes what a dead process had open
                    real(*args)
                raise Killed
            if number != self.at or self.fault is None:
                return real(*args)
            return self._strike(name, real, args)

        return call

    def _strike(self, name: str, real: Callable[..., Any], args: tuple[Any, ...]) -> Any:
        if name == "close":  # it closes in any case
            real(*args)
            args = ()
        fault = self.fault
        if fault is Fault.FULL and name != "close":
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        self.dead = fault in KILLS
        if fault is Fault.KILL_WITHIN and name == "write":
            real(args[0], args[1][: len(args[1]) // 2])
        before = {Fault.KILL_BEFORE, Fault.INTERRUPT_BEFORE, Fault.KILL_WITHIN, Fault.FULL}
        if fault not in before and args:
            real(*args)
        if fault in {Fault.INTERRUPT_BEFORE, Fault.INTERRUPT_AFTER}:
            raise KeyboardInterrupt
        if self.dead:
            raise Killed
        raise OSError(errno.EIO, os.strerror(errno.EIO))


@contextmanager
def faulty(fault: Fault | None = None, at: int = -1) -> Iterator[FaultyOs]:
    """A fault in the disk for as long as the body runs."""
    system = FaultyOs(fault, at)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(disk, "os", system)
        yield system
