"""Bars that tests share, as questions that follow each other do: anew where a file differs."""

from solver.cli.opened import OpenBars

OPEN = OpenBars()
"""Given as `obj` to a command: loading a bar takes longer than most of what tests ask of it."""
