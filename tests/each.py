"""One test that looks at each of many things, and names every one that fails.

A test of its own for each would cost more than most of these checks do.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from inspect import signature

Check = Callable[..., None]


def each(values: Iterable[object]) -> Callable[[Check], Check]:
    """Make a check of one value a test of all of them; a check of several takes tuples of them."""
    every = tuple(values)
    assert every, "nothing to look at"

    def test_of(check: Check) -> Check:
        takes = list(signature(check).parameters)
        method = takes[0] == "self"
        several = len(takes) > 1 + method

        def look(*at: object) -> None:
            called = [(*at, *value) if several else (*at, value) for value in every]  # type: ignore[misc]
            failed = [error for given in called for error in _failures(check, given)]
            if failed:
                raise ExceptionGroup(f"{len(failed)} of {len(every)}", failed)

        def test() -> None:
            look()

        def test_of_class(self: object) -> None:
            look(self)

        made = test_of_class if method else test
        made.__name__, made.__qualname__ = check.__name__, check.__qualname__
        made.__doc__, made.__module__ = check.__doc__, check.__module__
        return made

    return test_of


def _failures(check: Check, given: tuple[object, ...]) -> list[Exception]:
    try:
        check(*given)
    except Exception as error:
        error.add_note(f"Of {given!r}.")
        return [error]
    return []
