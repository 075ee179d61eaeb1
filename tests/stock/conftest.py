"""A bar whose stock can move."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.stock.bars import copied


@pytest.fixture
def root() -> Iterator[Path]:
    with copied() as found:
        yield found
