"""One input of a calculator as HTML: a number with its unit, a choice, a switch, a text, or a table to fill in.

Every unit carries its own factor, limits and typical range in the page, so that switching units needs no second source.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from site_build.equations import mathml
from site_build.markup import Html, join, tag

About = Mapping[str, Any]
_NEVER_NEGATIVE = re.compile(r"[>≥] \d")
FEW = 5  # choices up to this many stand open as radio buttons


def field(about: About, value: Any, form: str) -> Html:
    """Return the field of one input. ``form`` is the identifier of its calculator."""
    key = f"{form}-{about['name']}"
    return tag(
        "div",
        _RENDER.get(about["kind"], _number)(about, value, key),
        tag("p", class_="refusal", id=f"{key}-refusal", hidden=True),
        class_=f"field field-{about['kind']}",
        data_input=about["name"],
        data_kind=about["kind"],
        data_usual=about["unit"] or None,
        data_optional=bool(about["optional"]),
    )


def split_text(text: str, about: About) -> tuple[str, str]:
    """Return number and unit of a text whose unit is one the form offers."""
    for symbol in sorted((unit["symbol"] for unit in about["units"]), key=len, reverse=True):
        if symbol and text.endswith(f" {symbol}"):
            return text.removesuffix(symbol).rstrip(), symbol
    return text, about["unit"]


def name_of(about: About) -> Html:
    """Return label and symbol."""
    return join((about["label"], Html(" "), symbol(about["symbol"]))) if about["symbol"] else join((about["label"],))


def symbol(latex: str) -> Html:
    """Return a symbol as MathML."""
    return mathml(latex) if latex else Html("")


def _number(about: About, value: Any, key: str) -> Html:
    number, unit = split_text(str(value), about)
    label = about["label"]
    return join(
        (
            tag("label", name_of(about), for_=key),
            tag(
                "div",
                tag("button", "−", type="button", class_="step", data_step="-1", aria_label=f"{label}: less"),
                tag(
                    "input",
                    type="text",
                    inputmode="numeric" if about["kind"] == "integer" else "decimal",
                    id=key,
                    name=about["name"],
                    value=number,
                    autocomplete="off",
                    spellcheck="false",
                    placeholder="leave empty if unknown" if about["optional"] else None,
                    aria_describedby=f"{key}-hint",
                ),
                tag("button", "+", type="button", class_="step", data_step="1", aria_label=f"{label}: more"),
                _turn(about, label),
                units(about, unit, label),
                class_="box",
            ),
            _hint(about, unit, key),
        )
    )


def _turn(about: About, label: str) -> Html:
    """Return a button that changes the sign, where a number may be negative: some phones' number pads have no minus."""
    may = about["kind"] == "number" and not any(_NEVER_NEGATIVE.search(unit["limits"]) for unit in about["units"][:1])
    return tag("button", "±", type="button", class_="turn", aria_label=f"{label}: change sign") if may else Html("")


def units(about: About, chosen: str, label: str) -> Html:
    """Return the unit: a switch where there is a choice, else its name."""
    offered = about["units"]
    if len(offered) < 2:
        return tag("span", about["unit"], class_="unit") if about["unit"] else Html("")
    options = (
        tag(
            "option",
            unit["symbol"],
            value=unit["symbol"],
            selected=unit["symbol"] == chosen,
            data_factor=repr(float(unit["factor"])),
            data_offset=repr(float(unit["offset"])),
            data_limits=unit.get("limits", ""),
            data_typical=unit.get("typical", ""),
        )
        for unit in offered
    )
    return tag("select", *options, class_="unit", data_usual=about["unit"], aria_label=f"Unit of {label}")


def _hint(about: About, unit: str, key: str) -> Html:
    shown = next((each for each in about["units"] if each["symbol"] == unit), {"limits": "", "typical": ""})
    return tag(
        "p",
        tag("span", shown["limits"], class_="limits"),
        Html(" "),
        tag("span", f"typical {shown['typical']}" if shown["typical"] else "", class_="typical"),
        Html(" "),
        tag("span", about["help"], class_="help"),
        class_="hint",
        id=f"{key}-hint",
    )


def _help(about: About, key: str) -> Html:
    return tag("p", tag("span", about["help"], class_="help"), class_="hint", id=f"{key}-hint")


def _choice(about: About, value: Any, key: str) -> Html:
    if len(about["options"]) > FEW:
        options = (tag("option", words, value=option, selected=option == value) for option, words in about["options"])
        box = tag("select", *options, id=key, name=about["name"], aria_describedby=f"{key}-hint")
        return join((tag("label", about["label"], for_=key), tag("div", box, class_="box"), _help(about, key)))
    radios = (
        tag(
            "label",
            tag("input", type="radio", name=key, value=option, checked=option == value),
            tag("span", words),
            class_="option",
        )
        for option, words in about["options"]
    )
    return join(
        (
            tag("fieldset", tag("legend", about["label"]), *radios, id=key, aria_describedby=f"{key}-hint"),
            _help(about, key),
        )
    )


def _switch(about: About, value: Any, key: str) -> Html:
    box = tag(
        "input", type="checkbox", id=key, name=about["name"], checked=value is True, aria_describedby=f"{key}-hint"
    )
    return join((tag("label", box, tag("span", about["label"]), class_="option"), _help(about, key)))


def _text(about: About, value: Any, key: str) -> Html:
    box = tag(
        "input",
        type="text",
        id=key,
        name=about["name"],
        value=str(value),
        autocomplete="off",
        aria_describedby=f"{key}-hint",
    )
    return join((tag("label", about["label"], for_=key), tag("div", box, class_="box"), _help(about, key)))


def _table(about: About, rows: Sequence[Sequence[Any]], key: str) -> Html:
    """Return a grid with units in its head. The last row's buttons and pasting need the script; reading and printing do not."""
    columns = about["columns"]
    rows = rows or [[""] * len(columns)]  # an optional table begins with a row to fill in
    chosen = [_column_unit(column, [row[n] for row in rows]) for n, column in enumerate(columns)]
    heads = (
        tag(
            "th",
            tag("span", name_of(column), id=f"{key}-{column['name']}"),
            units(column, chosen[n], column["label"]),
            tag("span", column["help"], class_="help") if column["help"] else Html(""),
            scope="col",
            data_column=column["name"],
            data_kind=column["kind"],
            data_usual=column["unit"] or None,
        )
        for n, column in enumerate(columns)
    )
    body = (_row(about, row, number, key) for number, row in enumerate(rows, start=1))
    head = tag("tr", tag("th", tag("span", "Row", class_="hidden-text"), scope="col"), *heads, tag("td"))
    return join(
        (
            tag("p", about["label"], class_="label", id=f"{key}-label"),
            tag("p", about["help"], class_="hint") if about["help"] else Html(""),
            tag(
                "div",
                tag(
                    "table",
                    tag("thead", head),
                    tag("tbody", *body),
                    id=key,
                    class_="grid",
                    aria_labelledby=f"{key}-label",
                ),
                class_="grid-scroll",
                tabindex="0",
                role="group",
                aria_labelledby=f"{key}-label",
            ),
            tag(
                "p",
                tag("button", "Add a row", type="button", class_="quiet add-row"),
                Html(" "),
                tag(
                    "span", "Cells from a spreadsheet can be pasted into the first cell they belong in.", class_="help"
                ),
                class_="grid-actions",
            ),
        )
    )


def _column_unit(column: About, texts: Sequence[Any]) -> str:
    found = {split_text(str(text), column)[1] for text in texts if str(text)}
    return found.pop() if len(found) == 1 else str(column["unit"])


def _row(about: About, row: Sequence[Any], number: int, key: str) -> Html:
    cells = (
        tag("td", _cell(column, value, f"{key}-{column['name']}"))
        for column, value in zip(about["columns"], row, strict=True)
    )
    remove = tag("button", "×", type="button", class_="remove-row", aria_label=f"Remove row {number}")
    return tag("tr", tag("th", str(number), scope="row"), *cells, tag("td", remove))


def _cell(column: About, value: Any, label: str) -> Html:
    if column["kind"] == "choice":
        options = (tag("option", words, value=option, selected=option == value) for option, words in column["options"])
        return tag("select", *options, aria_labelledby=label)
    if column["kind"] == "switch":
        return tag("input", type="checkbox", checked=value is True, aria_labelledby=label)
    number = split_text(str(value), column)[0] if column["kind"] in {"number", "integer"} else str(value)
    mode = {"number": "decimal", "integer": "numeric"}.get(column["kind"])
    return tag(
        "input",
        type="text",
        inputmode=mode,
        value=number,
        autocomplete="off",
        spellcheck="false",
        aria_labelledby=label,
    )


_RENDER: Mapping[str, Callable[[About, Any, str], Html]] = {
    "choice": _choice,
    "switch": _switch,
    "table": _table,
    "text": _text,
}
