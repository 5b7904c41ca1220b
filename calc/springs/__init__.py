"""Springs, bars, ride and dampers: what carries the body, and how it moves."""
