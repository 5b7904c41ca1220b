"""Questions to ``calc`` while the site is built: through the same border, as JSON text, that the browser uses."""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import cache
from typing import Any

from calc.answer import answer


class NotAnswered(Exception):
    """``calc`` refused; the text is its own sentences."""


def ask(question: Mapping[str, Any]) -> Any:
    """Return the answer to one question."""
    said = json.loads(answer(json.dumps(question, ensure_ascii=False)))
    if "refused" in said:
        raise NotAnswered(" ".join(each["sentence"] for each in said["refused"]))
    return said["answer"]


@cache
def describe(name: str) -> Mapping[str, Any]:
    """Return what a calculator takes, gives and rests on."""
    found: Mapping[str, Any] = ask({"verb": "describe", "name": name})
    return found


@cache
def every() -> tuple[Mapping[str, str], ...]:
    """Return name, chapter, title and question of every calculator, in reading order."""
    return tuple(ask({"verb": "list"}))
