"""One car: its file, its values with their tolerances, and what may be asked of it."""
