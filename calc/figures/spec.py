"""What a figure shows, as plain data in SI units. ``chart`` and ``drawing`` turn it into SVG text."""

from collections.abc import Sequence
from typing import Literal, NamedTuple


class Axis(NamedTuple):
    """An axis: its label and the unit it is shown in unless the reader has chosen another."""

    label: str
    unit: str = ""


class Series(NamedTuple):
    """One named curve, or points where ``points`` is true. A y that is not finite leaves a gap."""

    name: str
    x: Sequence[float]
    y: Sequence[float]
    points: bool = False


class Band(NamedTuple):
    """A shaded band between two values of y, for a typical or a forbidden range."""

    name: str
    x: Sequence[float]
    low: Sequence[float]
    high: Sequence[float]


class Chart(NamedTuple):
    """A chart. ``description`` says in a sentence what is to be seen: it is the text for a reader who cannot see it."""

    title: str
    description: str
    x: Axis
    y: Axis
    series: tuple[Series, ...]
    bands: tuple[Band, ...] = ()


class Shape(NamedTuple):
    """One piece of a drawing in metres: ``line``, ``circle``, ``point``, ``polygon``, ``arrow`` or ``label``.

    ``points`` are the corners; a circle has its centre and ``radius``. ``role`` picks the pen (see the style sheet):
    ``body``, ``ground``, ``wheel``, ``link``, ``construction``, ``result``, ``force``. A ``point`` with a ``handle`` is the one
    that this row of the reader's table gives, and can be moved where the page is live.
    """

    kind: Literal["line", "circle", "point", "polygon", "arrow", "label"]
    points: tuple[tuple[float, float], ...]
    role: str = "body"
    label: str = ""
    radius: float = 0.0
    handle: str = ""


class Drawing(NamedTuple):
    """A drawing to scale. ``axes`` names the horizontal and the vertical axis, such as ``("x forward", "z up")``.

    ``x_to_left`` turns the picture so that the first axis points to the left.
    """

    title: str
    description: str
    axes: tuple[str, str]
    shapes: tuple[Shape, ...]
    x_to_left: bool = False


Figure = Chart | Drawing
