"""What is wrong with a page of the handbook, with its file and line, so that a writer can go straight there."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches


class PageProblem(Exception):
    """A page that cannot be built: where, and what to change."""

    def __init__(self, where: str, line: int, what: str) -> None:
        self.where, self.line, self.what = where, line, what
        super().__init__(f"{where}:{line}: {what}")


def nearest(wrong: str, known: Iterable[str]) -> str:
    """Return a hint that names the nearest known word, or all of them where none is near.

    >>> nearest("wheel_rat", ["wheel_rate", "ride_rate"])
    'Did you mean wheel_rate?'
    """
    known = list(known)
    close = get_close_matches(wrong, known, n=1, cutoff=0.5)
    if close:
        return f"Did you mean {close[0]}?"
    return f"Known: {', '.join(known)}." if known else "There is none yet."
