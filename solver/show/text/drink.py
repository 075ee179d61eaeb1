"""What is said of every drink, before ice and in the glass."""

from __future__ import annotations
