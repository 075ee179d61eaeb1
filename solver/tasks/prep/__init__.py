"""Prepare a house ingredient: from its recipe and what was measured to what is in the bottle."""

from solver.tasks.prep.figures import Figures, Known
from solver.tasks.prep.prepare import Lost, Prep, find_recipe, prepare

__all__ = ["Figures", "Known", "Lost", "Prep", "find_recipe", "prepare"]
