"""Figures as SVG text: the same specification and the same code while the site is built and in the browser."""

from typing import Any

from calc.display import Shown
from calc.figures.spec import Chart, Figure


def draw(figure: Figure, key: str, shown: Shown) -> dict[str, Any]:
    """Return a figure as plain data: title, description, SVG text, and the numbers behind a chart as a table.

    ``key`` starts the identifiers inside the SVG, so that several figures can stand on one page.
    """
    if isinstance(figure, Chart):
        from calc.figures import chart

        svg, table = chart.svg(figure, key, shown), chart.table(figure, shown)
    else:
        from calc.figures import drawing

        svg, table = drawing.svg(figure, key), None
    return {"title": figure.title, "description": figure.description, "svg": svg, "table": table}
