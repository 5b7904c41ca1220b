"""Find the fences of a page that the build answers itself: ``calc``, ``python live`` and ``calc-index``.

A fence is taken out of the Markdown and a slot, a line with a word of its own, is put in its place; the finished HTML goes into
the slot after the Markdown is rendered, so that no Markdown rule can touch it. Fences inside longer fences are examples and
stay. Fences inside admonitions and lists (indented) are found as well.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterator, Mapping
from typing import Any, NamedTuple

from site_build.problems import PageProblem

_OPEN = re.compile(r"^(?P<indent>[ \t]*)(?P<mark>`{3,}|~{3,})[ \t]*(?P<info>[^`]*?)[ \t]*$")
_ID = re.compile(r"[A-Za-z][A-Za-z0-9_-]*")
OPTIONS = ("quiet", "figure")


class Fence(NamedTuple):
    """A fence: its indent, the words after the marks, the text inside and its first line's number."""

    indent: str
    info: tuple[str, ...]
    body: str
    line: int
    last: int


class CalcFence(NamedTuple):
    """A ``calc`` fence: which calculator, under which name on the page, with which inputs, and what it promises."""

    name: str
    id: str
    option: str
    inputs: Mapping[str, Any]
    expect: Mapping[str, Any]
    line: int


def fences(text: str) -> Iterator[Fence]:
    """Yield every outermost fence of a page."""
    lines = text.split("\n")
    number = 0
    while number < len(lines):
        found = _OPEN.match(lines[number])
        if not found:
            number += 1
            continue
        end = _closing(lines, number, found["mark"])
        indent = found["indent"]
        body = "\n".join(line.removeprefix(indent) for line in lines[number + 1 : end])
        yield Fence(indent, tuple(found["info"].split()), body, number + 1, min(end, len(lines) - 1) + 1)
        number = end + 1


def _closing(lines: list[str], start: int, mark: str) -> int:
    """Return the index of the line that closes the fence; an open fence runs to the end."""
    close = re.compile(rf"^[ \t]*{re.escape(mark[0])}{{{len(mark)},}}[ \t]*$")
    return next((n for n in range(start + 1, len(lines)) if close.match(lines[n])), len(lines))


def replace(text: str, render: Callable[[Fence], str | None], inline: Callable[[str, int], str]) -> str:
    """Return the page with ``render(fence)`` in place of each fence it answers, and ``inline`` run over the lines outside fences."""
    lines = text.split("\n")
    out: list[str] = []
    number = 0
    for fence in fences(text):
        out += [inline(line, n + 1) for n, line in enumerate(lines[number : fence.line - 1], start=number)]
        replacement = render(fence)
        out += lines[fence.line - 1 : fence.last] if replacement is None else ["", fence.indent + replacement, ""]
        number = fence.last
    out += [inline(line, n + 1) for n, line in enumerate(lines[number:], start=number)]
    return "\n".join(out)


def is_calc(fence: Fence) -> bool:
    """Return whether a fence asks a calculator."""
    return fence.info[:1] == ("calc",)


def read_calc(fence: Fence, where: str) -> CalcFence:
    """Return what a ``calc`` fence says."""
    words = fence.info[1:]
    if not words or words[0].startswith("#"):
        raise PageProblem(where, fence.line, "a calc fence names its calculator: ```calc NAME #id")
    identifier, option = "", ""
    for word in words[1:]:
        if word.startswith("#") and _ID.fullmatch(word[1:]) and not identifier:
            identifier = word[1:]
        elif word in OPTIONS and not option:
            option = word
        else:
            raise PageProblem(
                where,
                fence.line,
                f"{word!r} is not understood; after the name come #id and one of {', '.join(OPTIONS)}",
            )
    inputs = _read_body(fence, where)
    expect = inputs.pop("expect", {})
    if not isinstance(expect, dict):
        raise PageProblem(where, fence.line, 'expect must be a table: a line [expect], then result = "value unit"')
    return CalcFence(words[0], identifier, option, inputs, expect, fence.line)


def _read_body(fence: Fence, where: str) -> dict[str, Any]:
    try:
        return tomllib.loads(fence.body)
    except tomllib.TOMLDecodeError as problem:
        found = re.search(r"at line (\d+)", str(problem))
        line = fence.line + int(found[1]) if found else fence.line
        raise PageProblem(
            where, line, f'{problem}; values stand in quotes, with their unit: wheelbase = "2560 mm"'
        ) from None
