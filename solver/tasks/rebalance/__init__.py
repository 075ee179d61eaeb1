"""The same drink in the glass from other bottles: one spec, or the whole spec book."""
