"""A live cell: run a reader's few lines of Python with ``calc`` imported, and return what they print or the line that failed."""

import contextlib
import io
import sys
from typing import Any

_CELL = "<cell>"
LONGEST_OUTPUT = 20_000  # characters


def run(source: str) -> dict[str, Any]:
    """Return ``{"output": text, "error": text}``; the value of a last bare expression is printed as at a prompt.

    >>> run("1 + 1")["output"]
    '2\\n'
    """
    import ast

    said = io.StringIO()
    error = ""
    names: dict[str, Any] = {"__name__": "__cell__"}
    with contextlib.redirect_stdout(said), contextlib.redirect_stderr(said):
        try:
            exec("import calc", names)
            tree = ast.parse(source, _CELL)
            last = tree.body.pop() if tree.body and isinstance(tree.body[-1], ast.Expr) else None
            exec(compile(tree, _CELL, "exec"), names)
            if isinstance(last, ast.Expr):
                value = eval(compile(ast.Expression(last.value), _CELL, "eval"), names)
                sys.displayhook(value)
        except SystemExit:
            pass
        except BaseException as problem:  # the reader's code may raise anything; all of it is an answer
            error = _short(problem)
    return {"output": said.getvalue()[:LONGEST_OUTPUT], "error": error}


def _short(problem: BaseException) -> str:
    """Return the error with the line of the cell it happened in."""
    import traceback

    lines = [frame.lineno for frame in traceback.extract_tb(problem.__traceback__) if frame.filename == _CELL]
    line = problem.lineno if isinstance(problem, SyntaxError) else lines[-1] if lines else None
    where = f"Line {line}: " if line else ""
    return f"{where}{type(problem).__name__}: {problem}"
