"""Small words for writing HTML: every text is escaped unless it is already HTML."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

_EMPTY = frozenset({"input", "br", "hr", "img", "col"})

Attribute = str | int | bool | None


class Html(str):
    """Text that is HTML already."""

    __slots__ = ()


def tag(name: str, /, *content: str | Html, **attributes: Attribute) -> Html:
    """Return an element; ``class_`` and ``data_x`` become ``class`` and ``data-x``; None and False leave an attribute out.

    >>> tag("p", "1 < 2", class_="note", hidden=True)
    '<p class="note" hidden>1 &lt; 2</p>'
    """
    written = "".join(_attribute(key, value) for key, value in attributes.items())
    if name in _EMPTY:
        return Html(f"<{name}{written}>")
    return Html(f"<{name}{written}>{join(content)}</{name}>")


def join(parts: Iterable[str | Html]) -> Html:
    """Return the parts one after another, each escaped unless it is HTML."""
    return Html("".join(part if isinstance(part, Html) else escape(part, quote=False) for part in parts))


def _attribute(key: str, value: Attribute) -> str:
    if value is None or value is False:
        return ""
    name = key.rstrip("_").replace("_", "-")
    return f" {name}" if value is True else f' {name}="{escape(str(value))}"'
