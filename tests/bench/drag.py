"""How many times in a second a drawing follows a point that is pulled without a pause."""

import tempfile
from itertools import pairwise

from . import page as pages
from .answers import line
from .starts import browser, first_answer, serving

SECONDS = 4
MOST = 4  # calculators


def measure(playwright, folder):
    """Return lines of the report, two for each calculator with points to drag."""
    found = calculators(folder)
    if not found:
        yield "drag: no page has a drawing with points yet"
        return
    for name, path in list(found.items())[:MOST]:
        with (
            tempfile.TemporaryDirectory() as profile,
            serving(folder) as server,
            browser(playwright, profile) as context,
        ):
            first_answer(context, server.url, path)
            times = dragged(context.pages[-1], name)
            took = [later - sooner for sooner, later in pairwise(times)]
            rate = 1000 * len(took) / (times[-1] - times[0]) if took else 0
            yield f"{f'drag, {name}':<34}{rate:.0f} redraws/s, pointer to all views"
            yield line("  from redraw to redraw", took)


def dragged(page, name):
    """Pull the lower ball joint, or the first point there is, in small circles; return when each redraw came."""
    form = page.locator(f'[data-calculator="{name}"]').first
    points = form.locator(pages.POINT)
    named = form.locator(pages.JOINT)
    point = (named if named.count() else points).first
    point.scroll_into_view_if_needed()
    box = point.locator(pages.MARK).bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 4, y)
    times = form.evaluate(pages.DRAG, [x, y, 1000 * SECONDS])
    page.mouse.up()
    return times


def calculators(site):
    """Return {calculator: the first page where its drawing has points to drag}."""
    found = {}
    for file in sorted(site.rglob("*.html")):
        for form in file.read_text("utf-8").split('data-calculator="')[1:]:
            if "data-map" in form:
                found.setdefault(form.partition('"')[0], file.relative_to(site).as_posix())
    return found
