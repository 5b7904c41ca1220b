"""Small numerical methods in plain Python, for every room."""
