"""The order of the book, and the home of each calculator: the first page, in that order, that has its fence.

A folder of the handbook is a chapter. Its pages stand in the order of the calculators they are home to, then by name; a page may
set its own place with ``order: 10`` in its front matter (a smaller number comes first; 1000 is where a page without one begins).
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, NamedTuple

from site_build import asking
from site_build.fences import fences, is_calc

CHAPTERS = {
    "start": "Start here",
    "rules": "Rules",
    "measure": "Measure the car",
    "tyres": "Tyres",
    "loads": "Loads and weight",
    "springs": "Springs",
    "ride": "Ride",
    "bars": "Bars and roll",
    "dampers": "Dampers",
    "geometry": "Geometry",
    "steering": "Steering",
    "brakes": "Brakes",
    "aero": "Aero and platform",
    "car": "The whole car",
    "track": "At the track",
    "learn": "Learn by trying",
    "teach": "Teach",
    "reference": "Reference",
}
GENERATED = "reference/calculators"
_ORDER = re.compile(r"\A---\n(?:.*\n)*?order:\s*(\d+)\s*\n(?:.*\n)*?---", re.MULTILINE)


class Home(NamedTuple):
    """The page and the anchor where a calculator lives."""

    page: str
    anchor: str


def chapter_title(folder: str) -> str:
    """Return the title of a chapter."""
    return CHAPTERS.get(folder, folder.replace("-", " ").capitalize())


def pages_in_order(docs: Path) -> dict[str, list[str]]:
    """Return {folder: its pages}, in the order of the book; the folder of the front pages is empty."""
    found: dict[str, list[str]] = {}
    for file in docs.rglob("*.md"):
        path = file.relative_to(docs).as_posix()
        found.setdefault(path.rpartition("/")[0], []).append(path)
    places = {name: place for place, name in enumerate(each["name"] for each in asking.every())}
    known = list(CHAPTERS)
    ordered = sorted(
        found, key=lambda folder: (folder != "", known.index(folder) if folder in known else len(known), folder)
    )
    return {folder: sorted(found[folder], key=lambda path: _place(docs / path, places)) for folder in ordered}


def _place(file: Path, places: Mapping[str, int]) -> tuple[int, int, str]:
    text = file.read_text(encoding="utf-8")
    said = _ORDER.match(text)
    first = min((places[name] for name, _ in fences_of(text) if name in places), default=len(places))
    return (0 if file.name == "index.md" else 1, int(said[1]) if said else 1000 + first, file.name)


def nav(docs: Path, generated: list[str]) -> list[Any]:
    """Return the navigation as MkDocs takes it."""
    chapters = pages_in_order(docs)
    if generated:
        chapters.setdefault("reference", []).extend(generated)
    listed: list[Any] = []
    for folder, pages in chapters.items():
        fronts = [{"Home": page} if page == "index.md" else page for page in pages]
        listed += fronts if folder == "" else [{chapter_title(folder): pages}]
    return listed


def homes(docs: Path) -> dict[str, Home]:
    """Return where each calculator lives; one that has no page yet is missing."""
    found: dict[str, Home] = {}
    for page in (page for folder, pages in pages_in_order(docs).items() for page in pages if folder != ""):
        for name, anchor in fences_of((docs / page).read_text(encoding="utf-8")):
            found.setdefault(name, Home(page, anchor))
    return found


def fences_of(text: str) -> Iterator[tuple[str, str]]:
    """Yield calculator and anchor of every calculator that a page shows."""
    seen: dict[str, int] = {}
    for fence in fences(text):
        words = fence.info[1:]
        if not is_calc(fence) or not words:
            continue
        identifier = next((word[1:] for word in words if word.startswith("#")), "")
        if not identifier:
            seen[words[0]] = seen.get(words[0], 0) + 1
            identifier = words[0] if seen[words[0]] == 1 else f"{words[0]}-{seen[words[0]]}"
        if "quiet" not in words and "figure" not in words:
            yield words[0], identifier
