"""Figures: what is drawn stands where the numbers say, and nothing a strict page policy would refuse."""

import re
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import catalogue, form
from calc.ask.evaluate import evaluate
from calc.display import Shown
from calc.figures import chart, draw, drawing
from calc.figures.spec import Axis, Band, Chart, Drawing, Series, Shape

NAN = float("nan")


def chart_of(*series, bands=(), x="mm", y="N"):
    return Chart("Title & more", "What <is> seen", Axis("Travel", x), Axis("Force", y), series, bands)


def parsed(svg):
    return ElementTree.fromstring(svg)


def scales(svg):
    return [[float(v) for v in parsed(svg).get(f"data-{axis}").split(",")] for axis in "xy"]


finite = st.floats(-1e6, 1e6)


@given(st.lists(st.tuples(finite, finite), min_size=2, max_size=12, unique_by=lambda p: p[0]))
def test_a_point_stands_where_its_axes_say(points):
    xs, ys = zip(*sorted(points), strict=True)
    svg = chart.svg(chart_of(Series("Points", xs, ys, points=True)), "k", Shown({"mm": "mm"}))
    (x0, x1, left, right), (y0, y1, low, high) = scales(svg)

    marks = [m for m in parsed(svg).iter() if m.get("class", "").startswith("mark")][: len(xs)]
    for mark, x, y in zip(marks, xs, ys, strict=True):
        assert float(mark.get("cx")) == pytest.approx(left + (1000 * x - x0) / (x1 - x0) * (right - left), abs=0.06)
        assert float(mark.get("cy")) == pytest.approx(low + (y - y0) / (y1 - y0) * (high - low), abs=0.06)
        assert left - 0.1 <= float(mark.get("cx")) <= right + 0.1
        assert high - 0.1 <= float(mark.get("cy")) <= low + 0.1


@given(finite, finite)
def test_the_grid_falls_on_round_numbers_and_covers_the_data(one, other):
    svg = chart.svg(chart_of(Series("s", (0.0, 1.0), (one, other))), "k", Shown())
    _, (low, high, *_) = scales(svg)

    rounding = 1e-8 * (high - low)  # less than a hair on the page: an end this near to a grid line is on it
    assert low <= min(one, other) + rounding
    assert high >= max(one, other) - rounding


def test_a_gap_is_a_gap():
    svg = chart.svg(chart_of(Series("s", (0.0, 1.0, 2.0, 3.0), (0.0, 1.0, NAN, 3.0))), "k", Shown())

    path = next(p for p in parsed(svg).iter() if p.get("class") == "curve series-0")
    assert path.get("d").count("M") == 2


def test_the_table_holds_the_numbers_in_the_readers_unit():
    spec = chart_of(Series("a", (0.0, 0.1), (0.0, 10.0)), Series("b", (0.1, 0.2), (5.0, NAN)))

    assert chart.table(spec, Shown({"mm": "in", "N": "lbf"})) == {
        "head": ["Travel (in)", "a (lbf)", "b (lbf)"],
        "rows": [["0", "0", ""], ["3.937", "2.248", "1.124"], ["7.874", "", ""]],
    }


def test_a_loop_keeps_its_order_in_the_table():
    spec = chart_of(Series("loop", (0.0, 0.1, 0.0), (1.0, 2.0, 3.0)))

    assert [row[1] for row in chart.table(spec, Shown())["rows"]] == ["1", "2", "3"]


def test_words_are_escaped_and_ids_are_the_callers():
    said = draw(
        chart_of(Series("<b>", (0.0, 1.0), (0.0, 1.0)), bands=(Band("a&b", (0.0, 1.0), (0.0, 0.0), (1.0, 1.0)),)),
        "key-3",
        Shown(),
    )

    assert "&lt;b&gt;" in said["svg"]
    assert "What &lt;is&gt; seen" in said["svg"]
    assert 'id="key-3-title"' in said["svg"]


def test_a_drawing_is_to_scale_and_mirrors_on_request():
    shapes = (Shape("line", ((0.0, 0.0), (1.0, 0.0))), Shape("circle", ((0.5, 0.25),), "wheel", radius=0.25))
    plain, turned = (
        drawing.svg(Drawing("t", "d", ("x forward", "z up"), shapes, x_to_left=left), "k") for left in (False, True)
    )
    ends = [
        [float(v) for v in re.search(r'<polyline class="body" points="([^"]*)"', svg)[1].replace(" ", ",").split(",")]
        for svg in (plain, turned)
    ]
    radius = float(re.search(r'<circle class="wheel"[^>]* r="([^"]*)"', plain)[1])

    assert ends[0][2] - ends[0][0] == pytest.approx(4 * radius, abs=0.3)
    assert ends[1][2] - ends[1][0] == pytest.approx(-4 * radius, abs=0.3)


@pytest.mark.parametrize("x_to_left", [False, True])
def test_a_point_of_the_table_is_a_handle_where_the_map_says(x_to_left):
    shapes = (
        Shape("line", ((-0.2, 0.1), (0.7, 0.4)), "link"),
        Shape("point", ((0.64, 0.15),), handle="lower_<ball>_joint"),
    )
    spec = Drawing("t", "d", ("y left", "z up"), shapes, x_to_left)
    tree = parsed(drawing.svg(spec, "k"))
    a, b, c, d = (float(value) for value in tree.get("data-map").split(","))
    (handle,) = [each for each in tree.iter() if each.get("class") == "handle"]
    grip, mark = (next(each for each in handle if each.get("class") == name) for name in ("grip", "mark"))

    assert handle.get("data-handle") == "lower_<ball>_joint"
    assert handle.get("data-axes") == "y,z"
    for circle in (grip, mark):
        assert float(circle.get("cx")) == pytest.approx(a * 0.64 + c, abs=0.06)
        assert float(circle.get("cy")) == pytest.approx(b * 0.15 + d, abs=0.06)
    assert (a < 0) is x_to_left
    assert float(grip.get("r")) * 340 / drawing.WIDTH >= 22  # pixels, on a small phone
    assert not {"tabindex", "role"} & set(handle.attrib)  # a button only where a script can make it one


def test_a_drawing_without_points_of_a_table_has_no_map():
    spec = Drawing("t", "d", ("y left", "z up"), (Shape("point", ((0.64, 0.15),)), Shape("point", ((0.1, 0.0),))))

    assert "data-map" not in drawing.svg(spec, "k")


def test_labels_keep_clear_of_each_other_and_inside():
    crowd = tuple(
        Shape("point", ((x, 0.0),), "result", f"a rather long label {n}") for n, x in enumerate((0.0, 0.01, 1.0))
    )
    svg = drawing.svg(Drawing("t", "d", ("x forward", "z up"), crowd), "k")
    boxes = [
        (float(t.get("x")), float(t.get("y")), drawing._LETTER * len(t.text or ""))
        for t in parsed(svg).iter()
        if t.tag == "text" and t.get("class") == "result"
    ]

    assert len(boxes) == 3
    for n, (x, y, width) in enumerate(boxes):
        assert x >= 0
        assert x + width <= drawing.WIDTH
        for x2, y2, width2 in boxes[:n]:
            assert abs(y - y2) >= drawing._LINE or x >= x2 + width2 or x2 >= x + width


@pytest.mark.parametrize("name", catalogue.names())
def test_every_figure_is_sound_markup_with_words_for_those_who_cannot_see_it(name):
    example = dict(form.about(catalogue.load(name)).example)
    for figure in evaluate(name, example, key="f")["figures"]:
        tree = parsed(figure["svg"])
        assert len(figure["description"]) > 30
        assert len(figure["title"]) > 8
        for element in tree.iter():
            assert not {"style", "onclick", "href"} & set(element.attrib)
            assert element.tag not in {"style", "script", "image", "foreignObject"}
