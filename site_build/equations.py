"""Equations as MathML: LaTeX in, elements without ``style=`` out; and the working, where numbers stand in place of symbols.

In the working each symbol that is an input or a result becomes ``<mn data-value="name">``. The browser only replaces the texts of
these elements, so the working follows the reader's inputs without a line of mathematics in JavaScript.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from html import unescape
from xml.etree import ElementTree

from latex2mathml.converter import convert

from site_build.markup import Html

Element = ElementTree.Element
_FUNCTIONS = frozenset({"sin", "cos", "tan", "arcsin", "arccos", "arctan", "ln", "log", "exp", "min", "max"})
_SCRIPTED = {
    "msub": (0, 1),
    "msubsup": (0, 1),
    "msup": (),
    "mover": (0,),
    "munder": (0,),
}  # children that are never replaced


class NotAnEquation(Exception):
    """LaTeX that cannot be read."""


@cache
def mathml(latex: str, *, block: bool = False) -> Html:
    """Return an equation as one ``<math>`` element.

    >>> "<msqrt>" in mathml(r"\\sqrt{k/m}")
    True
    """
    tree = _tree(latex)
    if block:
        tree.set("display", "block")
    return _written(tree)


def in_prose(html: str) -> str:
    """Return the page with its ``$...$`` and ``$$...$$``, as the Markdown extension marks them, made MathML."""
    inline = re.sub(
        r'<span class="arithmatex">\\\((.*?)\\\)</span>', lambda found: mathml(unescape(found[1])), html, flags=re.S
    )
    return re.sub(
        r'<div class="arithmatex">\s*\\\[(.*?)\\\]\s*</div>',
        lambda found: (
            f'<div class="equation" tabindex="0" data-search-exclude>{mathml(unescape(found[1]).strip(), block=True)}</div>'
        ),
        inline,
        flags=re.S,
    )


def with_numbers(latex: str, symbols: Mapping[str, str], numbers: Mapping[str, str]) -> Html:
    """Return the right-hand side of ``latex`` with numbers in place of symbols; empty where it has no equals sign.

    symbols: {name of an input or result: its LaTeX}.  numbers: {name: number as text}.
    """
    row = list(_row(_tree(latex)))
    equals = next((n for n, child in enumerate(row) if child.tag == "mo" and child.text == "="), None)
    if equals is None:
        return Html("")
    patterns = sorted(
        ((_pattern(symbol), name) for name, symbol in symbols.items() if symbol), key=lambda pair: -len(pair[0])
    )
    math = ElementTree.Element("math", {"display": "inline"})
    body = ElementTree.SubElement(math, "mrow")
    body.extend(_replaced(row[equals:], patterns, numbers))
    return _written(math)


def number_text(text: str) -> str:
    """Return a number as it stands inside an equation: negative ones and powers of ten in brackets.

    >>> number_text("−5"), number_text("2.5")
    ('(−5)', '2.5')
    """
    return f"({text})" if text.startswith("−") or "×" in text else text


@cache
def _pattern(symbol: str) -> tuple[str, ...]:
    """Return the elements of a symbol as text, to be found again inside an equation."""
    return tuple(_key(child) for child in _row(_tree(symbol)))


def _replaced(
    children: Iterable[Element], patterns: list[tuple[tuple[str, ...], str]], numbers: Mapping[str, str]
) -> list[Element]:
    """Return the children of a row with symbols replaced and a sign of multiplication between numbers that would touch."""
    row = list(children)
    out: list[Element] = []
    at = 0
    while at < len(row):
        for pattern, name in patterns:
            if tuple(_key(child) for child in row[at : at + len(pattern)]) == pattern:
                number = ElementTree.Element("mn", {"data-value": name})
                number.text = number_text(numbers.get(name, "–"))
                out.append(number)
                at += len(pattern)
                break
        else:
            out.append(_inside(row[at], patterns, numbers))
            at += 1
    return list(_multiplied(out))


def _inside(element: Element, patterns: list[tuple[tuple[str, ...], str]], numbers: Mapping[str, str]) -> Element:
    """Return a copy of an element with the symbols inside it replaced; a symbol with an index is one symbol and stays whole."""
    copy = ElementTree.Element(element.tag, element.attrib)
    copy.text = element.text
    if element.tag in {"mrow", "msqrt", "mtd", "math", "mstyle"}:
        copy.extend(_replaced(element, patterns, numbers))
        return copy
    kept = _SCRIPTED.get(element.tag, ())
    for n, child in enumerate(element):
        replaced = [child] if n in kept else _replaced([child], patterns, numbers)
        copy.append(replaced[0] if len(replaced) == 1 else _grouped(replaced))
    return copy


def _grouped(children: list[Element]) -> Element:
    row = ElementTree.Element("mrow")
    row.extend(children)
    return row


def _multiplied(row: list[Element]) -> Iterator[Element]:
    before: Element | None = None
    for element in row:
        if element.tag == "mspace":
            if before is not None and _is_function(before):
                yield element
            continue
        if (
            before is not None
            and _ends_factor(before)
            and _starts_factor(element)
            and (_has_number(before) or _has_number(element))
        ):
            times = ElementTree.Element("mo")
            times.text = "×"
            yield times
        yield element
        before = element


def _ends_factor(element: Element) -> bool:
    if element.tag == "mo":
        return (element.text or "") in {")", "]"}
    return not _is_function(element)


def _starts_factor(element: Element) -> bool:
    return element.tag != "mo" or (element.text or "") in {"(", "["}


def _is_function(element: Element) -> bool:
    first = element
    while len(first) and first.tag in {"msup", "msub", "mrow"}:
        first = first[0]
    return first.tag in {"mi", "mo"} and (first.text or "") in _FUNCTIONS


def _has_number(element: Element) -> bool:
    bracket = element.tag == "mo" and (element.text or "") in {"(", ")", "[", "]"}
    return bracket or any("data-value" in each.attrib for each in element.iter())


def _row(tree: Element) -> Element:
    """Return the row that holds the parts of an equation."""
    return tree[0] if len(tree) == 1 and tree[0].tag == "mrow" else tree


def _key(element: Element) -> str:
    """Return an element as text, without what braces in the LaTeX add."""
    while element.tag == "mrow" and len(element) == 1:
        element = element[0]
    inner = "".join(_key(child) for child in element)
    return f"<{element.tag}>{(element.text or '').strip()}{inner}"


@cache
def _source(latex: str) -> str:
    try:
        return convert(latex)
    except Exception as problem:  # the converter raises many kinds
        raise NotAnEquation(
            f"{latex!r} is not an equation that can be set: {type(problem).__name__} {problem}"
        ) from None


def _tree(latex: str) -> Element:
    """Return the equation as elements without namespace and without ``style=``."""
    try:
        tree = ElementTree.fromstring(_source(latex))
    except ElementTree.ParseError:  # an & outside a matrix comes through as it is
        raise NotAnEquation(
            f"{latex!r} is not an equation that can be set; write one equation a line, without &"
        ) from None
    for element in tree.iter():
        element.tag = element.tag.rpartition("}")[2]
        element.attrib.pop("style", None)
        if element.get("width", "").endswith("mathspace"):
            element.set("width", "-0.167em")
    for row in list(tree.iter()):
        _space_functions(row)
    return tree


def _space_functions(row: Element) -> None:
    """Set sin, cos and their like off from what stands beside them, as the converter does not."""
    for n in range(len(row) - 1, -1, -1):
        if row.tag in {"mrow", "math", "msqrt"} and _is_function(row[n]):
            if n + 1 < len(row) and _starts_factor(row[n + 1]) and row[n + 1].tag not in {"mo", "mspace"}:
                row.insert(n + 1, ElementTree.Element("mspace", {"width": "0.167em"}))
            if n and _ends_factor(row[n - 1]) and row[n - 1].tag != "mspace":
                row.insert(n, ElementTree.Element("mspace", {"width": "0.167em"}))


def _written(math: Element) -> Html:
    return Html(ElementTree.tostring(math, encoding="unicode"))
