"""One module for each thing a user asks for."""
