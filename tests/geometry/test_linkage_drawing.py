"""The drawing of a linkage: to scale, everything where the numbers say, before and after over each other."""

import pytest

from calc.display import Shown
from calc.figures import draw
from calc.figures.linkage import FARTHEST
from calc.geometry.axle import Axle
from calc.geometry.linkages.live_axle import AXLES
from calc.geometry.motion import Corner
from calc.geometry.moves import moved
from calc.geometry.readings import reading
from calc.geometry.scene import axle_drawings, drawings, scene
from tests.geometry.linkages import AXLE_POINTS, POINTS, axle_linkage, corner_linkage

FLAT = {"front": (1, 2), "side": (0, 2), "plan": (1, 0)}


def shapes(drawing, kind, role):
    return [shape for shape in drawing.shapes if shape.kind == kind and shape.role == role]


@pytest.mark.parametrize("kind", POINTS)
def test_every_link_is_drawn_between_its_points_in_all_three_views(kind):
    linkage = corner_linkage(kind)
    corner = Corner(linkage)

    for (view, (across, up)), drawing in zip(FLAT.items(), drawings(corner, corner.state()), strict=True):
        lines = {tuple(sorted(shape.points)) for shape in shapes(drawing, "line", "link")}
        for inner, outer in linkage.links:
            ends = [(linkage.points[name][across], linkage.points[name][up]) for name in (inner, outer)]
            assert any(
                all(a == pytest.approx(b, abs=1e-9) for a, b in zip(line, sorted(ends), strict=True)) for line in lines
            ), (view, inner)


@pytest.mark.parametrize("kind", POINTS)
def test_the_roll_centre_lies_on_the_centre_line_at_its_height(kind):
    corner = Corner(corner_linkage(kind))
    state = corner.state(0.02)

    front = drawings(corner, state)[0]

    (dot,) = [shape for shape in shapes(front, "point", "result") if shape.label == "roll centre"]
    assert dot.points[0] == pytest.approx(
        (0.0, state.contact[2] + reading(corner, state).roll_centre_height), abs=1e-12
    )


def test_the_line_to_the_instant_centre_passes_the_roll_centre():
    corner = Corner(corner_linkage("double_wishbone"))
    state = corner.state()
    front = drawings(corner, state)[0]
    line = shapes(front, "line", "result")[0].points
    (dot,) = [shape.points[0] for shape in shapes(front, "point", "result") if shape.label == "roll centre"]
    (y1, z1), (y2, z2) = line

    assert z1 + (dot[0] - y1) / (y2 - y1) * (z2 - z1) == pytest.approx(dot[1], abs=1e-9)


def test_a_far_centre_is_a_direction_not_a_point():
    corner = Corner(corner_linkage("five_link"))
    for state in corner.sweep([-0.05, 0.0, 0.05]):
        for drawing in drawings(corner, state):
            for shape in drawing.shapes:
                assert all(abs(value) < FARTHEST + 2.0 for point in shape.points for value in point)


def test_the_wheel_is_a_circle_from_the_side_and_its_lowest_point_is_the_contact():
    corner = Corner(corner_linkage("strut", camber=0.0, toe=0.0))
    state = corner.state()
    (rim,) = shapes(drawings(corner, state)[1], "polygon", "wheel")

    distances = [((x - state.pose.centre[0]) ** 2 + (z - state.pose.centre[2]) ** 2) ** 0.5 for x, z in rim.points]
    assert distances == pytest.approx([corner.radius] * len(distances), abs=1e-12)
    assert min(z for _, z in rim.points) == pytest.approx(state.contact[2], abs=1e-12)


def test_before_lies_under_after_in_broken_lines():
    linkage = corner_linkage("strut")
    before, after = Corner(linkage), Corner(moved(linkage, {"lower_arm_front_inner": (0.0, 0.0, 0.03)}))

    front = drawings(after, after.state(), (before, before.state()))[0]

    old = scene(before, before.state())
    broken = [shape.points for shape in shapes(front, "line", "construction")]
    for one, other in old.members:
        assert ((one[1], one[2]), (other[1], other[2])) in broken
    assert "before" in front.description


@pytest.mark.parametrize("kind", AXLE_POINTS)
def test_an_axle_is_drawn_with_its_roll_centre(kind):
    axle = Axle(axle_linkage(kind))
    row = axle.reading()

    front = axle_drawings(axle, axle.state())[0]

    (dot,) = [shape for shape in shapes(front, "point", "result") if shape.label == "roll centre"]
    assert dot.points[0] == pytest.approx((0.0, row.roll_centre_height), abs=1e-9)


def handles(drawing):
    return {shape.handle: shape.points[0] for shape in drawing.shapes if shape.handle}


@pytest.mark.parametrize("kind", POINTS)
def test_every_end_of_a_link_can_be_taken_hold_of_in_all_three_views(kind):
    corner = Corner(corner_linkage(kind))
    points = corner.linkage.points

    for (across, up), drawing in zip(FLAT.values(), drawings(corner, corner.state()), strict=True):
        held = handles(drawing)
        assert {"wheel_centre", *(name for link in corner.linkage.links for name in link)} <= set(held) <= set(points)
        for name, place in held.items():
            assert place == pytest.approx((points[name][across], points[name][up]), abs=1e-9)


def test_of_before_and_after_the_given_points_are_the_handles():
    linkage = corner_linkage("strut")
    before, after = Corner(linkage), Corner(moved(linkage, {"lower_arm_front_inner": (0.0, 0.0, 0.03)}))

    front = drawings(after, after.state(), (before, before.state()))[0]

    assert handles(front) == handles(drawings(before, before.state())[0])


@pytest.mark.parametrize("kind", AXLE_POINTS)
def test_only_points_of_the_table_of_an_axle_can_be_moved(kind):
    axle = Axle(axle_linkage(kind))
    table = AXLES[kind].points

    for drawing in axle_drawings(axle, axle.state(), table):
        assert {"wheel_centre_left", "wheel_centre_right"} < set(handles(drawing)) <= set(table)
    assert handles(axle_drawings(axle, axle.state())[0]) == {}


@pytest.mark.parametrize("kind", POINTS)
def test_the_svg_says_its_axes_and_holds_numbers_only(kind):
    corner = Corner(corner_linkage(kind))

    for drawing in drawings(corner, corner.state()):
        figure = draw(drawing, "key", Shown())
        assert drawing.axes[0] in figure["svg"]
        assert "nan" not in figure["svg"].replace("nance", "")
        assert "inf" not in figure["svg"].replace("infinity", "")
