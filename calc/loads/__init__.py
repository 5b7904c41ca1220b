"""Mass, load and how it moves."""
