"""A drink that exists, and what follows from it: assessment, method, card, guest notice."""
