"""`python -m solver` is the command `equipour`."""

from solver.cli.start import start

start()
