"""Prepare a house ingredient: from its recipe and what was measured to what is in the bottle."""

from solver.tasks.prep.figures import Estimate, Figures
from solver.tasks.prep.prepare import Prep, StepLoss, find_recipe, prepare

__all__ = ["Estimate", "Figures", "Prep", "StepLoss", "find_recipe", "prepare"]
