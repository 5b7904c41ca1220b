"""How long from a keystroke to the new answer, once Python is up."""

import json
import tempfile

from . import page as pages
from . import sites
from .starts import browser, first_answer, serving


def measure(playwright, folder, path, count):
    """Return lines of the report."""
    with tempfile.TemporaryDirectory() as profile, serving(folder) as server, browser(playwright, profile) as context:
        first_answer(context, server.url, path)
        page = context.pages[-1]
        trips = page.evaluate(pages.ROUND_TRIPS, [server.url, questions(count)])
        yield line("question to answer, worker", trips)
        if page.locator(pages.INPUT).count() == 0:
            yield "keystroke to new answer: no page has a form yet"
            return
        selectors = {"calculator": pages.CALCULATOR, "input": pages.INPUT}
        values = keystrokes(page.locator(pages.INPUT).first.input_value(), count)
        yield line("keystroke to new answer, page", page.evaluate(pages.KEYSTROKES, [selectors, values]))


def questions(count):
    """Return questions that differ, so that no answer can come from memory."""
    name, inputs = sites.example()
    return [json.dumps({"name": name, "inputs": inputs, "key": f"bench{number}"}) for number in range(count)]


def keystrokes(start, count):
    """Return values a little above what stands in the field, as typed."""
    value = float(start.replace(",", ".").replace("\u202f", "").replace("\u00a0", "") or 1)
    return [f"{value * (1 + (number % 50 + 1) / 500):.5g}" for number in range(count)]


def line(title, took):
    """Return one line: median and 95th percentile."""
    if not took:
        return f"{title}: no answer came"
    ordered = sorted(took)
    return f"{title:<34}p50 {ordered[len(ordered) // 2]:.1f} ms   p95 {ordered[int(len(ordered) * 0.95)]:.1f} ms   ({len(took)})"
