"""Keep a drink's strength, sugar, acid and volume with other bottles: one spec, or the whole
book."""
