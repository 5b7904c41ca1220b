"""A calculator with its answer as HTML: complete without a script, and what the script then keeps up to date."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import zip_longest
from typing import Any

from calc.units import choices
from site_build.equations import mathml, with_numbers
from site_build.fields import field, name_of
from site_build.markup import Html, join, tag
from site_build.values import Worked

_LISTS = frozenset({"numbers", "words"})
FEW_ROWS = 12  # lists up to this long stand open
LONG_EQUATION = 40  # characters of LaTeX: longer ones may not fit a phone
_NOTES = ("Valid for", "Caution", "Signs", "Source")
_NOTE_WORDS = {"Valid for": "Holds for", "Caution": "Take care", "Signs": "Signs", "Source": "Source"}


def calculator(worked: Worked, level: int = 3) -> Html:
    """Return the whole calculator; ``level`` is the level of its heading."""
    about, key = worked.about, worked.id
    return tag(
        "section",
        _head(about, key, level),
        tag(
            "div",
            _main(worked),
            tag("div", *_fields(worked), class_="fields", role="group", aria_label=f"Inputs: {about['title']}"),
            tag("div", _others(worked), _remarks(worked.answer["remarks"]), class_="rest"),
            class_="bench",
            data_search_exclude=True,
        ),
        tag("div", *(figure(each) for each in worked.answer["figures"]), class_="figures"),
        _series(worked),
        _working(worked),
        _notes(about),
        _actions(),
        class_="calculator",
        id=key,
        data_calculator=about["name"],
        aria_labelledby=f"{key}-title" if worked.nth == 1 else None,
        aria_label=f"{about['title']} ({worked.nth})" if worked.nth > 1 else None,
    )


def figures(worked: Worked) -> Html:
    """Return only the figures of an answer, for a fence with the option ``figure``."""
    return tag("div", *(figure(each) for each in worked.answer["figures"]), class_="figures", id=worked.id)


def figure(drawn: Mapping[str, Any]) -> Html:
    """Return a figure with its caption and, for a chart, the numbers behind it."""
    return tag(
        "figure",
        tag("div", Html(drawn["svg"]), class_="plot"),
        tag("figcaption", tag("b", drawn["title"]), Html(". "), drawn["description"]),
        _numbers(drawn["table"]) if drawn["table"] else Html(""),
        class_="drawn",
        data_search_exclude=True,
    )


def _head(about: Mapping[str, Any], key: str, level: int) -> Html:
    return tag(
        "header",
        tag("p", tag("span", "Calculator"), tag("span", class_="state", role="status"), class_="kind"),
        tag(f"h{level}", about["title"], id=f"{key}-title", class_="title"),
        tag("p", about["question"], class_="question"),
        tag("p", class_="notice", role="status", hidden=True),
        class_="head",
    )


def _single(worked: Worked) -> list[tuple[Mapping[str, Any], Mapping[str, Any]]]:
    """Return the results that are one number or word and no mere step of the working."""
    return [(about, result) for about, result in _shown(worked) if about["kind"] not in _LISTS]


def _shown(worked: Worked) -> list[tuple[Mapping[str, Any], Mapping[str, Any]]]:
    pairs = zip(worked.about["outputs"], worked.answer["outputs"], strict=True)
    return [(about, result) for about, result in pairs if not about["detail"]]


def _has_main(worked: Worked) -> bool:
    """Return whether one result stands out; where the first is a list, the curves are the answer."""
    return bool(_shown(worked)) and _shown(worked)[0][0]["kind"] not in _LISTS


def _main(worked: Worked) -> Html:
    if not _has_main(worked):
        return Html("")
    about, result = _shown(worked)[0]
    return tag(
        "div",
        tag("p", name_of(about), class_="label", id=f"{worked.id}-main"),
        tag("output", *_result(about, result), aria_labelledby=f"{worked.id}-main"),
        class_="main",
        data_output=about["name"],
    )


def _others(worked: Worked) -> Html:
    others = _single(worked)[1:] if _has_main(worked) else _single(worked)
    rows = (
        tag("div", tag("dt", name_of(about)), tag("dd", *_result(about, result)), data_output=about["name"])
        for about, result in others
    )
    return tag("dl", *rows, class_="others") if others else Html("")


def _result(about: Mapping[str, Any], result: Mapping[str, Any]) -> Iterator[Html]:
    """Yield number and unit of a result; the units it may switch to stand in the page for the script."""
    kind = "words" if isinstance(result["value"], str | list) else "figure"
    yield tag("span", result["text"], class_=f"value {kind}")
    if about["units"]:
        offered = "|".join(unit.symbol for unit in choices(about["unit"])) if len(about["units"]) > 1 else None
        yield tag(
            "span",
            result["unit"],
            class_="unit",
            data_usual=about["unit"],
            data_units=offered,
            data_label=about["label"],
            hidden=not result["unit"],
        )


def _fields(worked: Worked) -> Iterator[Html]:
    for about in worked.about["inputs"]:
        yield field(about, worked.texts.get(about["name"], ""), worked.id)


def _remarks(remarks: list[Mapping[str, str]]) -> Html:
    return tag("ul", *(remark(each) for each in remarks), class_="remarks", hidden=not remarks)


def remark(said: Mapping[str, str]) -> Html:
    """Return one sentence of judgement; a caution says so in a word, not by its colour alone."""
    head = (tag("b", "Caution"), Html(" ")) if said["level"] == "caution" else ()
    return tag("li", *head, said["text"], class_=f"remark {said['level']}")


def _numbers(table: Mapping[str, Any]) -> Html:
    heads = tag("tr", *(tag("th", head, scope="col") for head in table["head"]))
    rows = (tag("tr", *(tag("td", cell) for cell in row)) for row in table["rows"])
    grid = tag("table", tag("thead", heads), tag("tbody", *rows), class_="numbers")
    scroll = tag(
        "div", grid, class_="grid-scroll", tabindex="0", role="group", aria_label="The numbers behind the chart"
    )
    return tag("details", tag("summary", "The numbers behind the chart"), scroll, class_="data")


def _series(worked: Worked) -> Html:
    """Return the results that are lists as one table, a column each."""
    lists = [(about, result) for about, result in _shown(worked) if about["kind"] in _LISTS]
    if not lists:
        return Html("")
    heads = (
        tag(
            "th",
            name_of(about),
            Html(" "),
            tag("span", result["unit"], class_="unit"),
            scope="col",
            data_list=about["name"],
        )
        for about, result in lists
    )
    rows = (
        tag("tr", *(tag("td", text) for text in row))
        for row in zip_longest(*map(_texts, (r for _, r in lists)), fillvalue="")
    )
    grid = tag("table", tag("thead", tag("tr", *heads)), tag("tbody", *rows), class_="numbers")
    title = tag("summary", "Every result, row by row")
    scroll = tag(
        "div",
        grid,
        class_="grid-scroll series-scroll",
        tabindex="0",
        role="group",
        aria_label="Every result, row by row",
    )
    return tag(
        "details", title, scroll, class_="series", open=len(_texts(lists[0][1])) <= FEW_ROWS, data_search_exclude=True
    )


def _texts(result: Mapping[str, Any]) -> list[str]:
    return result["text"].split("; ") if result["value"] else []


def _working(worked: Worked) -> Html:
    steps = worked.about["working"]
    if not steps:
        return Html("")
    outputs = {
        about["name"]: (about, result)
        for about, result in zip(worked.about["outputs"], worked.answer["outputs"], strict=True)
    }
    symbols = {about["name"]: about["symbol"] for about in (*worked.about["inputs"], *worked.about["outputs"])}
    lines = (_step(step, symbols, worked.answer["working"], *outputs[step["gives"]]) for step in steps)
    return tag(
        "details",
        tag("summary", "Working"),
        tag(
            "p",
            "Numbers inside the equations are in SI units: metres, kilograms, newtons, seconds, radians.",
            class_="help",
        ),
        tag("ol", *lines, class_="steps"),
        class_="working",
        data_search_exclude=True,
    )


def _step(
    step: Mapping[str, str],
    symbols: Mapping[str, str],
    numbers: Mapping[str, str],
    about: Mapping[str, Any],
    result: Mapping[str, Any],
) -> Html:
    gives = step["gives"]
    # what is wider than a phone is scrolled, and a keyboard must reach it; numbers are longer than their symbols
    scrolls = 0 if len(step["latex"]) > LONG_EQUATION else None
    numbers_scroll = 0 if len(step["latex"]) > LONG_EQUATION // 2 else None
    return tag(
        "li",
        tag("p", about["label"], class_="label"),
        tag("div", mathml(step["latex"]), class_="symbols", tabindex=scrolls),
        tag("div", with_numbers(step["latex"], symbols, numbers), class_="with-numbers", tabindex=numbers_scroll),
        tag(
            "p",
            Html("= "),
            tag(
                "span",
                tag("span", result["text"], class_="value"),
                Html(" "),
                tag("span", result["unit"], class_="unit"),
                data_output=gives,
            ),
            class_="gives",
        ),
        data_gives=gives,
    )


def _notes(about: Mapping[str, Any]) -> Html:
    found = [(head, about["notes"][head]) for head in _NOTES if head in about["notes"]]
    if not found:
        return Html("")
    lines = (join((tag("dt", _NOTE_WORDS[head]), tag("dd", text[:1].upper() + text[1:]))) for head, text in found)
    return tag(
        "details",
        tag("summary", "When it holds, and where it comes from"),
        tag("dl", *lines),
        class_="notes",
        data_search_exclude=True,
    )


def _actions() -> Html:
    return tag(
        "p",
        tag("button", "Copy a link to these inputs", type="button", class_="quiet copy-link"),
        tag("button", "Back to the book’s example", type="button", class_="quiet reset"),
        class_="actions",
    )
