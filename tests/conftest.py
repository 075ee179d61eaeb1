"""Hypothesis draws the same examples everywhere in CI, and new ones on a developer's machine.

`--hypothesis-profile sweep` draws many, as `-m sweep` runs what has more cases than all the rest.
"""

import gc
import os

import pytest
from hypothesis import settings

# Python's own pace would walk every module and every collected test over and over.
gc.set_threshold(100_000)

settings.register_profile("ci", derandomize=True, deadline=None, max_examples=40)
settings.register_profile("dev", deadline=None, max_examples=40)
settings.register_profile("sweep", deadline=None, max_examples=1000)
settings.load_profile("ci" if os.environ.get("CI") else "dev")


@pytest.hookimpl(tryfirst=True)
def pytest_pycollect_makeitem(collector: pytest.Collector, obj: object) -> list[pytest.Item] | None:
    """Where sweeps are left out, their thousands of cases are not even made."""
    marks: list[pytest.Mark] = getattr(obj, "pytestmark", [])
    left_out = "not sweep" in collector.config.option.markexpr
    return [] if left_out and any(mark.name == "sweep" for mark in marks) else None


@pytest.hookimpl(trylast=True)
def pytest_collection_finish() -> None:
    """Thousands of collected tests stay until the end: no collection of garbage looks at them."""
    gc.collect()
    gc.freeze()
