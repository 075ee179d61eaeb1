"""House ingredients: from a recipe and its measurements to the content of the bottle."""

from solver.tasks.prep.figures import Estimate, Figures
from solver.tasks.prep.prepare import Prep, StepLoss, find_recipe, prepare

__all__ = ["Estimate", "Figures", "Prep", "StepLoss", "find_recipe", "prepare"]
