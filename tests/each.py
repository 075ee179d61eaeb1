"""One test that looks at each of many things, and names every one that fails.

A test of its own for each would cost more than most of these checks do.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TypeVar

T = TypeVar("T")


def each(values: Iterable[T]) -> Callable[[Callable[[T], None]], Callable[[], None]]:
    """Make a check of one value a test of all of them."""
    every = tuple(values)
    assert every, "nothing to look at"

    def test_of(check: Callable[[T], None]) -> Callable[[], None]:
        def test() -> None:
            failed = [error for value in every for error in _failures(check, value)]
            if failed:
                raise ExceptionGroup(f"{len(failed)} of {len(every)}", failed)

        test.__name__, test.__qualname__ = check.__name__, check.__qualname__
        test.__doc__, test.__module__ = check.__doc__, check.__module__
        return test

    return test_of


def _failures(check: Callable[[T], None], value: T) -> list[Exception]:
    try:
        check(value)
    except Exception as error:
        error.add_note(f"Of {value!r}.")
        return [error]
    return []
