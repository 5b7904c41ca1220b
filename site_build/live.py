"""A ``python live`` cell as HTML: the lines, and what they print when the site is built."""

from __future__ import annotations

from site_build import asking
from site_build.fences import Fence
from site_build.markup import Html, tag
from site_build.problems import PageProblem


def cell(fence: Fence, where: str, key: str) -> Html:
    """Return the cell with its output; a cell that fails while the site is built is a mistake of the page."""
    said = asking.ask({"verb": "run", "source": fence.body})
    if said["error"]:
        raise PageProblem(where, fence.line, f"the live cell fails: {said['error']}")
    return tag(
        "section",
        tag(
            "p", tag("label", "Python", for_=f"{key}-source"), tag("span", class_="state", role="status"), class_="kind"
        ),
        tag(
            "textarea",
            fence.body,
            id=f"{key}-source",
            rows=len(fence.body.splitlines()) or 1,
            spellcheck="false",
            autocapitalize="off",
            autocomplete="off",
            wrap="off",
        ),
        tag(
            "p",
            tag("button", "Run", type="button", class_="run"),
            tag("button", "Stop", type="button", class_="quiet stop", disabled=True),
            tag("button", "Reset", type="button", class_="quiet reset"),
            tag("span", "Ctrl + Enter runs it.", class_="help"),
            class_="actions",
        ),
        tag("output", said["output"], class_="printed", for_=f"{key}-source"),
        class_="live-cell",
        id=key,
        aria_label="Python cell",
        data_search_exclude=True,
    )
