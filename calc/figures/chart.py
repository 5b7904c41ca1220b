"""A chart as SVG text. Attributes and classes only, no style: a strict content policy, dark mode and print all work."""

from collections.abc import Iterator, Sequence
from html import escape
from math import ceil, floor, isfinite, log10, nan
from typing import Any, NamedTuple

from calc.display import Shown, number
from calc.figures.spec import Axis, Chart, Series

WIDTH, HEIGHT = 400, 280
_LEFT, _RIGHT, _TOP, _BOTTOM = 50, 12, 10, 40
_LEGEND_ROW = 18
_LETTER = 6.2  # mean width of a letter at the size the style sheet sets
_FLAT = 1e-100  # a span below this is no span
_MINUS = "−"


class _Scale(NamedTuple):
    """A straight map from values to the drawing, with its grid values."""

    low: float
    high: float
    start: float
    end: float
    step: float

    def __call__(self, value: float) -> float:
        return round(self.start + (value - self.low) / (self.high - self.low) * (self.end - self.start), 1)

    def ticks(self) -> list[float]:
        """Return the grid values."""
        return [self.low + i * self.step for i in range(round((self.high - self.low) / self.step) + 1)]

    def written(self, value: float) -> str:
        """Return a grid value with the digits its step needs."""
        places = max(0, -floor(log10(self.step) + 1e-9))
        text = f"{value:.{places + (abs(self.step * 10**places % 1) > 1e-6)}f}"
        return text.replace("-", _MINUS) if float(text) else text.lstrip("-")


def svg(chart: Chart, key: str, shown: Shown) -> str:
    """Return the chart as an ``<svg>`` element."""
    legend = _legend_rows(chart)
    bottom = HEIGHT - _BOTTOM
    x, y = _scales(chart, shown, bottom)
    height = HEIGHT + _LEGEND_ROW * len(legend)
    head = (
        f'<svg class="figure chart" viewBox="0 0 {WIDTH} {height}" role="img" aria-labelledby="{key}-title {key}-text" '
        f'data-x="{x.low},{x.high},{x.start},{x.end}" data-y="{y.low},{y.high},{y.start},{y.end}">'
        f'<title id="{key}-title">{escape(chart.title)}</title><desc id="{key}-text">{escape(chart.description)}</desc>'
    )
    return "".join(
        (
            head,
            *_grid(chart, x, y, shown),
            *_bands(chart, x, y, shown),
            *(part for n, series in enumerate(chart.series) for part in _series(series, n, x, y, chart, shown)),
            *_legend(legend),
            "</svg>",
        )
    )


def table(chart: Chart, shown: Shown) -> dict[str, Any]:
    """Return the numbers of the chart: column heads, and rows of text, blank where a series has no point.

    Rows go by x where every curve does; a curve that turns back, such as a loop, keeps its own order.
    """
    turning = any(list(s.x) != sorted(s.x) for s in chart.series)
    points = [(x, n, y) for n, s in enumerate(chart.series) for x, y in zip(s.x, s.y, strict=True)]
    rows: list[tuple[float, list[float]]] = []
    for x, n, y in points if turning else sorted(points, key=lambda point: point[:2]):
        if turning or not rows or rows[-1][0] != x:
            rows.append((x, [nan] * len(chart.series)))
        rows[-1][1][n] = shown.number(y, chart.y.unit)
    return {
        "head": [_label(chart.x, shown), *(f"{s.name}{_in(chart.y, shown)}" for s in chart.series)],
        "rows": [
            [number(shown.number(x, chart.x.unit), 4), *(number(cell, 4) if isfinite(cell) else "" for cell in cells)]
            for x, cells in rows
        ],
    }


def _in(axis: Axis, shown: Shown) -> str:
    unit = shown.unit(axis.unit)
    return f" ({unit})" if unit else ""


def _label(axis: Axis, shown: Shown) -> str:
    return axis.label + _in(axis, shown)


def _scales(chart: Chart, shown: Shown, bottom: float) -> tuple[_Scale, _Scale]:
    xs = [shown.number(v, chart.x.unit) for s in chart.series for v in s.x]
    ys = [shown.number(v, chart.y.unit) for s in chart.series for v in s.y if isfinite(v)]
    ys += [shown.number(v, chart.y.unit) for band in chart.bands for v in (*band.low, *band.high)]
    return (_scale(xs, 6, _LEFT, WIDTH - _RIGHT), _scale(ys or [0.0], 5, bottom, _TOP))


def _scale(values: Sequence[float], wanted: int, start: float, end: float) -> _Scale:
    """Return a scale over ``values`` whose grid falls on round numbers."""
    low, high = min(values), max(values)
    if high - low <= max(1e-9 * max(abs(low), abs(high)), _FLAT):
        room = abs(low) / 2 if abs(low) > _FLAT else 0.5
        low, high = low - room, high + room
    rough = (high - low) / wanted
    power = 10.0 ** floor(log10(rough))
    step = next(m * power for m in (1, 2, 2.5, 5, 10) if rough <= m * power * 1.0000001)
    return _Scale(floor(low / step + 1e-9) * step, ceil(high / step - 1e-9) * step, start, end, step)


def _grid(chart: Chart, x: _Scale, y: _Scale, shown: Shown) -> Iterator[str]:
    yield '<g class="grid" aria-hidden="true">'
    for value in x.ticks():
        yield f'<line x1="{x(value)}" x2="{x(value)}" y1="{y.end}" y2="{y.start}"/>'
        yield f'<text x="{x(value)}" y="{y.start + 15}" text-anchor="middle">{x.written(value)}</text>'
    for value in y.ticks():
        zero = ' class="zero"' if abs(value) < 1e-9 * y.step else ""
        yield f'<line{zero} y1="{y(value)}" y2="{y(value)}" x1="{x.start}" x2="{x.end}"/>'
        yield f'<text x="{x.start - 5}" y="{y(value) + 4}" text-anchor="end">{y.written(value)}</text>'
    middle = round((y.start + y.end) / 2, 1)
    yield f'<text class="axis" x="{(x.start + x.end) / 2}" y="{y.start + 33}" text-anchor="middle">{escape(_label(chart.x, shown))}</text>'
    yield f'<text class="axis" transform="translate(11 {middle}) rotate(-90)" text-anchor="middle">{escape(_label(chart.y, shown))}</text></g>'


def _bands(chart: Chart, x: _Scale, y: _Scale, shown: Shown) -> Iterator[str]:
    for band in chart.bands:
        there = [
            f"{x(shown.number(a, chart.x.unit))},{y(shown.number(b, chart.y.unit))}"
            for a, b in zip(band.x, band.high, strict=True)
        ]
        back = [
            f"{x(shown.number(a, chart.x.unit))},{y(shown.number(b, chart.y.unit))}"
            for a, b in zip(band.x, band.low, strict=True)
        ]
        yield f'<polygon class="band" points="{" ".join((*there, *reversed(back)))}"><title>{escape(band.name)}</title></polygon>'


def _series(series: Series, n: int, x: _Scale, y: _Scale, chart: Chart, shown: Shown) -> Iterator[str]:
    pen, path = "M", []
    for a, b in zip(series.x, series.y, strict=True):
        if not isfinite(b):
            pen = "M"
            continue
        at = x(shown.number(a, chart.x.unit)), y(shown.number(b, chart.y.unit))
        if series.points:
            yield f'<circle class="mark series-{n}" cx="{at[0]}" cy="{at[1]}" r="4.5"/>'
        path.append(f"{pen}{at[0]} {at[1]}")
        pen = "L"
    if not series.points:
        yield f'<path class="curve series-{n}" d="{"".join(path)}"/>'


def _legend_rows(chart: Chart) -> list[list[tuple[int, Series, float]]]:
    """Return the entries of the legend, each with its x, in rows that fit the width."""
    rows: list[list[tuple[int, Series, float]]] = []
    at = float(WIDTH)
    for n, series in enumerate(chart.series):
        room = 34 + _LETTER * len(series.name)
        if at + room > WIDTH:
            rows.append([])
            at = float(_LEFT - 40)
        rows[-1].append((n, series, at))
        at += room + 10
    return rows


def _legend(rows: list[list[tuple[int, Series, float]]]) -> Iterator[str]:
    for line, row in enumerate(rows):
        base = HEIGHT + 8 + _LEGEND_ROW * line
        for n, series, at in row:
            if series.points:
                yield f'<circle class="mark series-{n}" cx="{at + 11:.1f}" cy="{base}" r="4.5"/>'
            else:
                yield f'<path class="curve series-{n}" d="M{at:.1f} {base}h22"/>'
            yield f'<text x="{at + 27:.1f}" y="{base + 4}">{escape(series.name)}</text>'
