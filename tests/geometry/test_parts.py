"""Springs, dampers, bars and rockers on every member: motion ratios and turning rates against differences of their own positions."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.geometry.forms.inputs import Hardpoint, corner_of, placed_points, with_parts
from calc.geometry.forms.position import wheel_position
from calc.geometry.linkages import KINDS
from calc.geometry.linkages.kind import Wheel
from calc.geometry.loads import member_loads
from calc.geometry.motion import Corner
from calc.geometry.readings import reading
from calc.geometry.vectors import dot, norm, sub
from calc.refusal import Refused, RefusedTogether
from tests.geometry.differences import derivative
from tests.geometry.linkages import POINTS, placed, shaken

ROCKER = {
    "rod_outer": (0.0, 0.56, 0.185),
    "rocker_axis_front": (0.06, 0.36, 0.42),
    "rocker_axis_rear": (-0.06, 0.36, 0.42),
    "rocker_rod_end": (0.0, 0.42, 0.45),
    "rocker_spring_end": (0.0, 0.34, 0.50),
    "rocker_spring_chassis": (0.01, 0.06, 0.46),
}
BAR = {
    "bar_axis_inner": (-0.23, -0.4, 0.175),
    "bar_axis_outer": (-0.23, 0.4, 0.175),
    "bar_arm_end": (-0.06, 0.52, 0.236),
    "bar_link_end": (-0.055, 0.525, 0.162),
}


def rocker_corner(seed, spring_on="lower_arm", bar_on="lower_arm", kind="double_wishbone"):
    points = shaken({**placed(POINTS[kind]), **ROCKER, **BAR}, seed, 0.006)
    points.pop("spring_lower", None)
    points.pop("spring_upper", None)
    return Corner(with_parts(KINDS[kind].build(points, Wheel(0.28, -0.02, 0.001)), spring_on, bar_on))


@pytest.mark.parametrize("spring_on", ["lower_arm", "upper_arm", "carrier", "link"])
@pytest.mark.parametrize("bar_on", ["lower_arm", "carrier", "rocker", "link"])
@given(seed=st.integers(0, 500), travel=st.floats(-0.025, 0.025))
@settings(max_examples=4)
def test_pushrod_rocker_and_bar_rates_are_slopes(spring_on, bar_on, seed, travel):
    corner = rocker_corner(seed, spring_on, bar_on)

    def positions(z):
        row = reading(corner, corner.state(z))
        return [row.spring_length, row.rocker_turn, row.bar_turn]

    slopes = derivative(positions, travel, 2e-4)  # the bar on the rocker is near its lock
    row = reading(corner, corner.state(travel))

    assert row.spring_ratio == pytest.approx(-slopes[0], abs=1e-6)
    assert row.rocker_rate == pytest.approx(slopes[1], abs=1e-5)
    assert row.bar_rate == pytest.approx(slopes[2], abs=1e-5)


@given(seed=st.integers(0, 500), travel=st.floats(-0.03, 0.03))
@settings(max_examples=10)
def test_rod_and_drop_link_keep_their_lengths(seed, travel):
    corner = rocker_corner(seed)
    state = corner.state(travel)
    for name, crank in corner.linkage.cranks.items():
        end = corner.parts.carried(crank.crank_end, name, state.pose, state.per_travel).at
        tip = corner.parts.carried(crank.link_end, crank.on, state.pose, state.per_travel).at
        drawn = norm(sub(corner.linkage.points[crank.crank_end], corner.linkage.points[crank.link_end]))
        assert norm(sub(end, tip)) == pytest.approx(drawn, abs=1e-11)


@pytest.mark.parametrize("spring_on", ["lower_arm", "upper_arm", "carrier"])
@given(seed=st.integers(0, 500), force=st.tuples(st.floats(-3000, 3000), st.floats(-4000, 4000), st.floats(1000, 6000)))
@settings(max_examples=6)
def test_a_spring_driven_through_pushrod_and_rocker_balances_the_contact_force(spring_on, seed, force):
    corner = rocker_corner(seed, spring_on)
    state = corner.state(0.01)
    ratio = reading(corner, state).spring_ratio

    loads = member_loads(corner, state, force)

    work = dot(force, state.per_travel.at(state.pose.centre, state.contact))
    assert loads.spring * ratio == pytest.approx(work, rel=1e-8, abs=1e-5)


def test_parts_are_where_they_were_drawn():
    corner = rocker_corner(0)
    row = reading(corner, corner.state())

    assert row.rocker_turn == pytest.approx(0.0, abs=1e-12)
    assert row.bar_turn == pytest.approx(0.0, abs=1e-12)
    assert row.spring_length == pytest.approx(
        math.dist(corner.linkage.points["rocker_spring_end"], corner.linkage.points["rocker_spring_chassis"]), abs=1e-12
    )


def rows(kind, without=(), **moved):
    points = {name: at for name, at in placed(POINTS[kind]).items() if name not in without} | moved
    return tuple(Hardpoint(name, *at) for name, at in points.items())


def test_a_missing_point_is_named_with_what_it_is():
    with pytest.raises(Refused, match="tie_rod_outer: wheel end of the tie rod"):
        corner_of("double_wishbone", rows("double_wishbone", {"tie_rod_outer"}), 0.28, 0.0, 0.0, "lower_arm")


def test_an_unknown_or_repeated_name_is_refused_at_its_row():
    points = rows("strut")
    with pytest.raises(Refused) as caught:
        corner_of("strut", (*points, points[0]), 0.3, 0.0, 0.0)
    assert caught.value.input == f"points[{len(points) + 1}].name"
    assert "once" in caught.value.rule
    with pytest.raises(Refused, match="Did you mean tie_rod_outer"):
        corner_of("strut", (*points, Hardpoint("tie rod out", 0, 0, 0)), 0.3, 0.0, 0.0)


def test_names_may_be_written_with_spaces_and_capitals():
    points = tuple(row._replace(name=row.name.replace("_", " ").title()) for row in rows("strut"))

    assert set(placed_points(points, KINDS["strut"].points, {})) == set(KINDS["strut"].points)


def test_half_a_spring_is_refused():
    with pytest.raises(Refused, match="spring_upper as well"):
        corner_of("double_wishbone", rows("double_wishbone", {"spring_upper"}), 0.28, 0.0, 0.0, "lower_arm")


def test_a_member_the_linkage_lacks_is_refused():
    with pytest.raises(Refused, match="must be a member of this linkage"):
        corner_of("multi_link", rows("multi_link"), 0.3, 0.0, 0.0, "upper_arm")


def test_coincident_points_are_refused_at_their_row():
    at = placed(POINTS["double_wishbone"])["lower_ball_joint"]
    points = rows("double_wishbone", upper_ball_joint=at)

    with pytest.raises(Refused, match="must not coincide") as caught:
        corner_of("double_wishbone", points, 0.28, 0.0, 0.0, "lower_arm")

    assert caught.value.input.startswith("points[")


def test_swapped_ends_are_warned_of_not_refused():
    points = placed(POINTS["multi_link"])
    points["traction_rod_inner"], points["traction_rod_outer"] = points["traction_rod_outer"], (0.35, 0.60, 0.37)
    table = tuple(Hardpoint(name, *at) for name, at in points.items())

    said = wheel_position(linkage="multi_link", points=table, loaded_radius=0.305, spring_on="lower_arm")

    assert any("traction rod inner" in flag and "swapped" in flag for flag in said.flags)


def test_a_centre_at_infinity_is_a_direction_in_words():
    flat = {
        "lower_arm_front_inner": (0.2, 0.35, 0.2),
        "lower_arm_rear_inner": (-0.2, 0.35, 0.2),
        "lower_ball_joint": (0.0, 0.7, 0.2),
        "upper_arm_front_inner": (0.2, 0.35, 0.45),
        "upper_arm_rear_inner": (-0.2, 0.35, 0.45),
        "upper_ball_joint": (0.0, 0.7, 0.45),
        "tie_rod_inner": (-0.1, 0.35, 0.25),
        "tie_rod_outer": (-0.1, 0.7, 0.25),
        "wheel_centre": (0.0, 0.75, 0.3),
    }
    table = tuple(Hardpoint(name, *at) for name, at in flat.items())

    said = wheel_position(linkage="double_wishbone", points=table, loaded_radius=0.3)

    assert said.front_centre_y is None
    assert any("infinity" in flag and "0.0 mm for each metre inboard" in flag for flag in said.flags)


@pytest.mark.parametrize("kind", POINTS)
@given(data=st.data())
@settings(max_examples=40)
def test_any_points_at_all_are_answered_finitely_or_refused(kind, data):
    """Points from a coarse grid: many coincide, stand in line or cannot be assembled."""
    coarse = st.integers(-2, 4).map(lambda n: 0.2 * n)
    points = placed(POINTS[kind]) | (ROCKER | BAR if kind == "double_wishbone" else {})
    names = data.draw(st.lists(st.sampled_from(sorted(points)), max_size=6, unique=True))
    table = tuple(
        Hardpoint(name, *(data.draw(st.tuples(coarse, coarse, coarse)) if name in names else at))
        for name, at in points.items()
    )

    said = ""
    row = ()
    try:
        corner = corner_of(kind, table, 0.3, -0.02, 0.001)
        row = reading(corner, corner.state(data.draw(st.sampled_from([-0.1, -0.02, 0.0, 0.03, 0.3]))))
    except (Refused, RefusedTogether) as problem:
        said = str(problem)
    assert row or said.endswith(".")
    assert all(value is None or math.isfinite(value) for value in row)
