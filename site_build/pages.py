"""One page: its Markdown with a slot for each answered fence, and the HTML that goes into the slots."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import NamedTuple

from site_build import forms, live
from site_build.equations import NotAnEquation, in_prose
from site_build.fences import Fence, is_calc, read_calc, replace
from site_build.markup import Html
from site_build.problems import PageProblem
from site_build.values import Page

_SLOT = "answerslot{}slotanswer"
_FILLED = re.compile(r"(?:<p>)?answerslot(\d+)slotanswer(?:</p>)?")
_HEADING = re.compile(r"^(#{1,5})\s")
_ID = re.compile(r'\sid="([^"]+)"')


class Prepared(NamedTuple):
    """A page on its way: Markdown with slots, the HTML of each slot, and the page's values."""

    markdown: str
    slots: tuple[Html, ...]
    page: Page


def prepare(markdown: str, where: str, index: Callable[[], Html] = lambda: Html("")) -> Prepared:
    """Answer every fence and inline value of a page. ``index`` gives the list for ``calc-index``."""
    page = Page(where)
    slots: list[Html] = []
    levels = _levels(markdown)

    def render(fence: Fence) -> str | None:
        made = _answered(fence, page, index, min(levels[fence.line - 1] + 1, 6), len(slots))
        if made is None:
            return None
        slots.append(made)
        return _SLOT.format(len(slots) - 1)

    return Prepared(replace(markdown, render, page.inline), tuple(slots), page)


def fill(html: str, prepared: Prepared) -> str:
    """Return the rendered page with its slots filled and its equations set."""
    where = prepared.page.where
    names = set(_ID.findall(html))
    for worked in prepared.page.worked.values():
        if worked.id in names and worked.option != "quiet":
            raise PageProblem(
                where,
                worked.line,
                f"#{worked.id} is also the anchor of a heading on this page; rename the fence or the heading",
            )
    try:
        html = in_prose(html)
    except NotAnEquation as problem:
        raise PageProblem(where, 1, str(problem)) from None
    return _FILLED.sub(lambda found: prepared.slots[int(found[1])], html)


def _answered(fence: Fence, page: Page, index: Callable[[], Html], level: int, number: int) -> Html | None:
    if is_calc(fence):
        worked = page.work(read_calc(fence, page.where))
        if worked.option == "quiet":
            return Html("")
        return forms.figures(worked) if worked.option == "figure" else forms.calculator(worked, level)
    if fence.info == ("python", "live"):
        return live.cell(fence, page.where, f"cell-{number}")
    if fence.info == ("calc-index",):
        return index()
    if fence.info and fence.info[0].startswith("calc"):
        raise PageProblem(
            page.where,
            fence.line,
            f"{' '.join(fence.info)!r} is not a fence of this book: calc NAME, calc-index, python live",
        )
    return None


def _levels(markdown: str) -> list[int]:
    """Return for each line the level of the heading above it."""
    level, found = 1, []
    for line in markdown.split("\n"):
        heading = _HEADING.match(line)
        level = len(heading[1]) if heading else level
        found.append(level)
    return found
