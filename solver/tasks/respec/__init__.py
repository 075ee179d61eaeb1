"""A drink as strong, sweet, sharp and large from other bottles: one spec, or the whole book."""
