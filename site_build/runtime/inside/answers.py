"""Runs inside Pyodide: put questions to `calc` as the browser would."""

from __future__ import annotations

import json


def main(arguments: str) -> str:
    """Answer a list of questions; everything is JSON text, as it is in the page."""
    from calc.answer import answer

    return json.dumps([answer(question) for question in json.loads(arguments)])
