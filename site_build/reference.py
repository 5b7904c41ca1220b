"""Generated pages: every calculator by chapter, and for each chapter what its calculators take, give and rest on."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import groupby
from typing import Any

from mkdocs.utils import get_relative_url

from calc.display import quantity
from site_build import asking
from site_build.contents import GENERATED, Home, chapter_title
from site_build.fields import name_of
from site_build.markup import Html, join, tag

About = Mapping[str, Any]


def index(homes: Mapping[str, Home], page_url: str) -> Html:
    """Return the list of all calculators by chapter, each with a link to its home, or to its reference where it has none."""
    groups = (
        join(
            (
                tag("p", chapter_title(chapter), class_="chapter"),
                tag("ul", *(_line(each, homes, page_url) for each in listed)),
            )
        )
        for chapter, listed in groupby(asking.every(), key=lambda each: each["chapter"])
    )
    return tag("div", *groups, class_="calc-index")


def _line(each: Mapping[str, str], homes: Mapping[str, Home], page_url: str) -> Html:
    return tag(
        "li",
        tag("a", each["question"], href=address(each["name"], homes, page_url)),
        Html(" "),
        tag("span", each["title"], class_="help"),
    )


def address(name: str, homes: Mapping[str, Home], page_url: str) -> str:
    """Return the link from a page to a calculator's home."""
    if name in homes:
        target = f"{homes[name].page.removesuffix('.md')}.html#{homes[name].anchor}"
    else:
        chapter = next(each["chapter"] for each in asking.every() if each["name"] == name)
        target = f"{GENERATED}-{chapter}.html#{name}"
    return get_relative_url(target, page_url)


def pages(homes: Mapping[str, Home]) -> dict[str, str]:
    """Return {path: Markdown} of the generated pages: the list of all, and one page a chapter."""
    chapters = {chapter: list(listed) for chapter, listed in groupby(asking.every(), key=lambda each: each["chapter"])}
    made = {f"{GENERATED}.md": "# All calculators\n\n```calc-index\n```\n"}
    for chapter, listed in chapters.items():
        path = f"{GENERATED}-{chapter}.md"
        sections = "\n\n".join(
            section(asking.describe(each["name"]), homes, path.removesuffix(".md") + ".html") for each in listed
        )
        title = chapter_title(chapter)
        front = f"---\ntitle: {title} in detail\nsearch: {{exclude: true}}\n---"  # a search leads to the page with the words
        made[path] = f"{front}\n\n# {title}: inputs, results, sources\n\n{sections}\n"
    return made


def section(about: About, homes: Mapping[str, Home], page_url: str) -> str:
    """Return the section of one calculator: a Markdown heading, and HTML below it."""
    name = about["name"]
    parts = (
        tag("p", about["question"], Html(" "), tag("a", "To the calculator", href=address(name, homes, page_url))),
        _table(
            ("Input", "Unit", "Limits", "Typical", "If left out"),
            (_input(each) for each in rows(about["inputs"])),
            "inputs",
        ),
        _table(("Result", "Unit"), (_output(each) for each in about["outputs"]), "results"),
        tag("dl", *(join((tag("dt", head), tag("dd", text))) for head, text in about["notes"].items()), class_="notes"),
        tag("p", tag("code", command(about)), class_="command", tabindex="0"),
    )
    return f"## {about['title']} {{#{name}}}\n\n{''.join(parts)}"


def rows(inputs: list[About]) -> Iterator[About]:
    """Yield every input; the columns of a table follow it."""
    for each in inputs:
        yield each
        yield from ({**column, "column": True} for column in each["columns"])


def command(about: About) -> str:
    """Return the example as it is typed on a command line."""
    words = (f'--{name} "{value}"' for name, value in about["example"].items() if isinstance(value, str))
    return " ".join(("python3 -m calc", about["name"], *words))


def _table(heads: tuple[str, ...], lines: Iterator[Html], kind: str) -> Html:
    head = tag("tr", *(tag("th", each, scope="col") for each in heads))
    grid = tag("table", tag("thead", head), tag("tbody", *lines), class_=f"about-{kind}")
    return tag("div", grid, class_="grid-scroll", tabindex="0", role="group", aria_label=f"Table of {kind}")


def _input(about: About) -> Html:
    first = about["units"][0] if about["units"] else {"limits": "", "typical": ""}
    words = tag("span", f" {about['help']}", class_="help") if about["help"] else Html("")
    unit = ", ".join(each["symbol"] or "–" for each in about["units"]) or _kind(about)
    return tag(
        "tr",
        tag(
            "td",
            Html("&emsp;") if about.get("column") else Html(""),
            name_of(about),
            Html(" "),
            tag("code", about["name"]),
            words,
        ),
        tag("td", unit),
        tag("td", first["limits"]),
        tag("td", first["typical"]),
        tag("td", _default(about)),
    )


def _kind(about: About) -> str:
    if about["kind"] == "choice":
        return " / ".join(words for _, words in about["options"])
    return {"switch": "yes or no", "text": "text", "table": "table", "integer": "whole number"}.get(about["kind"], "–")


def _default(about: About) -> str:
    value = about["default"]
    if about["required"]:
        return "needed"
    if value is None:
        return "not known"
    if about["kind"] == "table":
        return f"{len(value)} rows"
    if isinstance(value, bool):
        return "yes" if value else "no"
    return quantity(value, about["unit"]) if isinstance(value, int | float) else str(value)


def _output(about: About) -> Html:
    unit = ", ".join(each or "–" for each in about["units"]) or about["unit"] or "–"
    return tag("tr", tag("td", name_of(about), Html(" "), tag("code", about["name"])), tag("td", unit))
