"""A drawing to scale as SVG text, with its axes named. Lengths are in metres; millimetres are written."""

from collections.abc import Iterator
from html import escape
from typing import NamedTuple

from calc.figures.spec import Drawing, Shape

WIDTH = 400
_MARGIN = 26
_HIGHEST = 360
_FOOT = 40  # the strip below the drawing that the axes stand in
_MARK, _GRIP = 4.5, 26  # radii of a handle's mark and of what takes hold of it: a finger's width on a phone
_LETTER, _LINE = 6.4, 13.0  # mean width of a letter and height of a line, at the size the style sheet sets

Box = tuple[float, float, float, float]  # left, top, right, bottom


class _View(NamedTuple):
    """The map from metres to the drawing: scale, and the corner that becomes the lower left one."""

    scale: float
    left: float
    low: float
    height: float
    mirrored: bool

    def __call__(self, point: tuple[float, float]) -> tuple[float, float]:
        along = (self.left - point[0]) if self.mirrored else (point[0] - self.left)
        return round(_MARGIN + along * self.scale, 1), round(
            self.height - _FOOT - _MARGIN - (point[1] - self.low) * self.scale, 1
        )

    def in_words(self) -> str:
        """Return the map as four numbers a, b, c, d: a place (across, up) in metres is drawn at (a across + c, b up + d)."""
        turn = -1 if self.mirrored else 1
        along = _MARGIN - turn * self.left * self.scale
        down = self.height - _FOOT - _MARGIN + self.low * self.scale
        return ",".join(f"{value:.7g}" for value in (turn * self.scale, -self.scale, along, down))


def svg(drawing: Drawing, key: str) -> str:
    """Return the drawing as an ``<svg>`` element. One with handles also says how its places map to metres."""
    view = _view(drawing)
    live = f' data-map="{view.in_words()}"' if any(shape.handle for shape in drawing.shapes) else ""
    head = (
        f'<svg class="figure drawing" viewBox="0 0 {WIDTH} {view.height:.0f}" role="img" aria-labelledby="{key}-title {key}-text"{live}>'
        f'<title id="{key}-title">{escape(drawing.title)}</title><desc id="{key}-text">{escape(drawing.description)}</desc>'
    )
    pieces = (part for shape in drawing.shapes if not shape.handle for part in _shape(shape, view, key))
    handles = (_handle(shape, drawing, view) for shape in drawing.shapes if shape.handle)
    return "".join(
        (head, _arrow_head(key), *pieces, *_labels(drawing, view), *_axes(drawing, view, key), *handles, "</svg>")
    )


def _view(drawing: Drawing) -> _View:
    xs = [x + side * shape.radius for shape in drawing.shapes for x, _ in shape.points for side in (-1, 1)]
    ys = [y + side * shape.radius for shape in drawing.shapes for _, y in shape.points for side in (-1, 1)]
    width, height = max(max(xs) - min(xs), 1e-6), max(max(ys) - min(ys), 1e-6)
    scale = min((WIDTH - 2 * _MARGIN) / width, (_HIGHEST - 2 * _MARGIN) / height)
    spare = ((WIDTH - 2 * _MARGIN) / scale - width) / 2
    left = max(xs) + spare if drawing.x_to_left else min(xs) - spare
    return _View(scale, left, min(ys), height * scale + 2 * _MARGIN + _FOOT, drawing.x_to_left)


def _shape(shape: Shape, view: _View, key: str) -> Iterator[str]:
    at = [view(point) for point in shape.points]
    css = f'class="{escape(shape.role)}"'
    corners = " ".join(f"{x},{y}" for x, y in at)
    if shape.kind == "circle":
        yield f'<circle {css} cx="{at[0][0]}" cy="{at[0][1]}" r="{shape.radius * view.scale:.1f}"/>'
    elif shape.kind == "point":
        yield f'<circle {css} cx="{at[0][0]}" cy="{at[0][1]}" r="3.5"/>'
    elif shape.kind == "polygon":
        yield f'<polygon {css} points="{corners}"/>'
    elif shape.kind != "label":
        head = f' marker-end="url(#{key}-head)"' if shape.kind == "arrow" else ""
        yield f'<polyline {css} points="{corners}"{head}/>'


def _handle(shape: Shape, drawing: Drawing, view: _View) -> str:
    """Return a point that can be moved: a mark, the larger circle that takes hold of it, and its name for whoever points at it.

    It is a picture until the page is live; the script then makes it a button, because without one it could do nothing.
    """
    x, y = view(shape.points[0])
    axes = ",".join(axis.split()[0] for axis in drawing.axes)
    name = shape.handle.replace("_", " ")
    half = _LETTER * len(name) / 2
    middle = min(max(x, half + 2), WIDTH - half - 2)
    return (
        f'<g class="handle" data-handle="{escape(shape.handle)}" data-axes="{escape(axes)}">'
        f'<circle class="grip" cx="{x}" cy="{y}" r="{_GRIP}"/><circle class="mark" cx="{x}" cy="{y}" r="{_MARK}"/>'
        f'<text class="name" x="{middle:.1f}" y="{y - 12 if y > 30 else y + 22:.1f}" text-anchor="middle">{escape(name)}</text></g>'
    )


def _labels(drawing: Drawing, view: _View) -> Iterator[str]:
    """Yield the labels, each beside its shape where it stays inside and clear of the labels and points before it."""
    taken = [_around(view(s.points[0])) for s in drawing.shapes if s.kind == "point"]
    for shape in drawing.shapes:
        if shape.label:
            box = _place(shape.label, view(shape.points[-1]), taken, view.height - _FOOT)
            taken.append(box)
            yield f'<text class="{escape(shape.role)}" x="{box[0]:.1f}" y="{box[3] - 3:.1f}">{escape(shape.label)}</text>'


def _around(at: tuple[float, float]) -> Box:
    return at[0] - 4, at[1] - 4, at[0] + 4, at[1] + 4


def _place(label: str, at: tuple[float, float], taken: list[Box], bottom: float) -> Box:
    """Return the box of a label: above right, above left, below right, below left, then further out; kept inside the drawing."""
    width = _LETTER * len(label)
    (x, y), first = at, None
    for out in (5.0, 19.0, 33.0):
        for left, top in (
            (x + 6, y - out - _LINE),
            (x - 6 - width, y - out - _LINE),
            (x + 6, y + out),
            (x - 6 - width, y + out),
        ):
            left = min(max(left, 2.0), WIDTH - width - 2)
            top = min(max(top, 2.0), bottom - _LINE)
            box = left, top, left + width, top + _LINE
            first = first or box
            if not any(_overlap(box, other) for other in taken):
                return box
    return first or (x, y, x + width, y + _LINE)


def _overlap(one: Box, other: Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _arrow_head(key: str) -> str:
    return (
        f'<defs><marker id="{key}-head" viewBox="0 0 8 8" refX="7" refY="4" markerWidth="7" markerHeight="7" orient="auto-start-reverse">'
        '<path class="head" d="M0 0L8 4L0 8z"/></marker></defs>'
    )


def _axes(drawing: Drawing, view: _View, key: str) -> Iterator[str]:
    """Draw the two axes in the strip below, each with its name."""
    x, y = (WIDTH - 12 if drawing.x_to_left else 12), view.height - 8
    along, tip, anchor = (-1, -24, "end") if drawing.x_to_left else (1, 24, "start")
    yield f'<g class="axes"><polyline points="{x},{y:.1f} {x + tip},{y:.1f}" marker-end="url(#{key}-head)"/>'
    yield f'<polyline points="{x},{y:.1f} {x},{y - 24:.1f}" marker-end="url(#{key}-head)"/>'
    yield f'<text x="{x + tip + 6 * along}" y="{y + 4:.1f}" text-anchor="{anchor}">{escape(drawing.axes[0])}</text>'
    yield f'<text x="{x + 8 * along}" y="{y - 16:.1f}" text-anchor="{anchor}">{escape(drawing.axes[1])}</text></g>'
