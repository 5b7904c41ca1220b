"""Scripts that run inside Pyodide; there this folder is on the path, so they import each other by bare names."""
