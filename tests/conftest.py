"""Hypothesis draws the same examples everywhere in CI, and new ones on a developer's machine."""

import gc
import os

import pytest
from hypothesis import settings

# Python's own pace would walk every module and every collected test over and over.
gc.set_threshold(100_000)

settings.register_profile("ci", derandomize=True, deadline=None)
settings.register_profile("dev", deadline=None)
settings.load_profile("ci" if os.environ.get("CI") else "dev")


@pytest.hookimpl(trylast=True)
def pytest_collection_finish() -> None:
    """Thousands of collected tests stay until the end: no collection of garbage looks at them."""
    gc.collect()
    gc.freeze()
