"""Python for the browser: the engine, a trimmed and compiled standard library, and `calc`."""
