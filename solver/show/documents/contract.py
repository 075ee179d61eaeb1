"""The form of every document for programs: format 1.

Keys are stable within a format; amounts are numbers in the unit that the key names, None where
they are not known.
"""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from typing import Any

FORMAT = 1


def document(task: str, fields: Mapping[str, Any]) -> str:
    """A document as text. A number that JSON cannot hold is a mistake of ours, and raises."""
    whole = {"format": FORMAT, "task": task, **fields}
    return json.dumps(whole, indent=2, allow_nan=False)


def finite(value: float) -> float | None:
    """A number as JSON can hold it: None for one without end."""
    return value if math.isfinite(value) else None
