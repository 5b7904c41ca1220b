"""Adjusters, moves, bump steer, steering, alignment, survey and spread against independent references and laws."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq, least_squares, minimize_scalar
from scipy.spatial.transform import Rotation

from calc.ask.evaluate import evaluate
from calc.catalogue import load
from calc.form import about
from calc.geometry import alignment, planar, steering, survey
from calc.geometry.adjust import adjusted, adjusters, effect, reset, with_lengths_kept
from calc.geometry.bump_steer import best_shim, polynomial, toe_curve
from calc.geometry.linkages import KINDS
from calc.geometry.motion import Corner
from calc.geometry.moves import longer_link, moved, other_wheel, raised_hub, spacer, top_plate
from calc.geometry.readings import reading
from calc.geometry.spread import effects, root_sum
from calc.geometry.wheel import camber, spin_axis, toe_in
from calc.refusal import Refused
from tests.geometry.linkages import POINTS, corner_linkage
from tests.geometry.reference import derivative

ADJUSTABLE = [kind for kind in POINTS if KINDS[kind].toe]


def angles(linkage, travel=0.0):
    state = Corner(linkage).state(travel)
    return np.array([toe_in(state.spin), camber(state.spin)])


@pytest.mark.parametrize("kind", ADJUSTABLE)
def test_the_effect_of_an_adjuster_is_the_slope_of_the_setting(kind):
    linkage = corner_linkage(kind, 5)
    corner = Corner(linkage)
    for adjuster in adjusters(KINDS[kind]):
        expected = derivative(lambda amount, a=adjuster: angles(adjusted(linkage, a, amount)), 0.0, 5e-4)

        assert effect(corner, corner.state(), adjuster) == pytest.approx(expected, rel=1e-6, abs=1e-8)


@pytest.mark.parametrize("kind", ADJUSTABLE)
@given(seed=st.integers(0, 500), toe=st.floats(-0.01, 0.01), wanted=st.floats(-0.05, 0.0))
@settings(max_examples=6)
def test_reset_brings_toe_and_camber_to_target(kind, seed, toe, wanted):
    linkage = corner_linkage(kind, seed)

    setting = reset(linkage, KINDS[kind], 0.01, toe, wanted)

    assert angles(setting.linkage, 0.01) == pytest.approx([toe, wanted], abs=1e-9)


def test_reset_of_what_is_right_already_turns_nothing():
    linkage = corner_linkage("strut")

    setting = reset(linkage, KINDS["strut"], 0.0, linkage.static_toe_in, linkage.static_camber)

    assert (setting.toe, setting.camber) == (0.0, 0.0)


@pytest.mark.parametrize("kind", POINTS)
def test_lengths_kept_are_the_drawn_lengths(kind):
    linkage = corner_linkage(kind, 11)
    drawn, kept = Corner(linkage), Corner(with_lengths_kept(linkage))

    for z in (-0.04, 0.03):
        assert kept.pose(z).centre == pytest.approx(drawn.pose(z).centre, abs=1e-10)


@pytest.mark.parametrize("kind", ["double_wishbone", "strut", "multi_link", "five_link"])
def test_a_longer_link_and_back_is_the_car_as_it_was(kind):
    linkage = corner_linkage(kind)
    link = KINDS[kind].toe

    back = longer_link(longer_link(linkage, link, 0.004), link, -0.004)

    assert angles(longer_link(linkage, link, 0.004))[0] != pytest.approx(angles(linkage)[0], abs=1e-3)
    assert angles(back) == pytest.approx(angles(linkage), abs=1e-10)


def test_a_raised_hub_moves_scrub_and_trail_by_the_tangents():
    """The rule of the trade: scrub grows by h tan KPI, trail falls by h tan caster, arms unmoved. Exact up to static camber and toe."""
    linkage = corner_linkage("strut", camber=0.0, toe=0.0)
    before, after = (Corner(each) for each in (linkage, raised_hub(linkage, 0.03)))
    one, other = reading(before, before.state()), reading(after, after.state())

    assert other.scrub - one.scrub == pytest.approx(0.03 * math.tan(one.inclination), abs=1e-9)
    assert one.trail - other.trail == pytest.approx(0.03 * math.tan(one.caster), abs=1e-9)
    assert other.camber_rate == pytest.approx(one.camber_rate, rel=1e-9)
    drop = (one.roll_centre_height + 0.0) - other.roll_centre_height
    assert drop == pytest.approx(
        0.03 * one.half_track_change + 0.03 * before.drawn_contact[1] / one.front_swing_arm, rel=1e-6
    )


def test_a_larger_tyre_adds_trail_and_takes_scrub():
    linkage = corner_linkage("double_wishbone", camber=0.0, toe=0.0)
    before, after = (Corner(each) for each in (linkage, other_wheel(linkage, 0.0, 0.015)))
    one, other = reading(before, before.state()), reading(after, after.state())

    assert other.trail - one.trail == pytest.approx(0.015 * math.tan(one.caster), abs=1e-9)
    assert one.scrub - other.scrub == pytest.approx(0.015 * math.tan(one.inclination), abs=1e-9)


def test_a_spacer_raises_the_roll_centre_of_a_lowered_strut():
    linkage = corner_linkage("strut")
    plain, spaced = Corner(linkage), Corner(spacer(linkage, "lower_ball_joint", 0.025))

    assert (
        reading(spaced, spaced.state(0.03)).roll_centre_height
        > reading(plain, plain.state(0.03)).roll_centre_height + 0.03
    )


def test_a_top_plate_is_for_struts():
    with pytest.raises(Refused, match="must be a strut"):
        top_plate(corner_linkage("double_wishbone"), (0.0, -0.01, 0.0))
    inboard = top_plate(corner_linkage("strut"), (0.0, -0.01, 0.0))
    assert angles(inboard)[1] < angles(corner_linkage("strut"))[1] - 0.01


@pytest.mark.parametrize("arm", ["lower", "upper"])
@pytest.mark.parametrize("end", ["front", "rear"])
def test_front_pivots_up_work_on_the_slopes_as_practice_says(arm, end):
    """Practice: lower front pivot up takes anti-dive, upper front pivot up gives it (outboard brakes); either one moves b_W rearward."""
    linkage = corner_linkage("double_wishbone", camber=0.0, toe=0.0)
    before, after = (Corner(each) for each in (linkage, moved(linkage, {f"{arm}_arm_{end}_inner": (0.0, 0.0, 0.01)})))
    one, other = reading(before, before.state()), reading(after, after.state())
    front = 1 if end == "front" else -1

    assert (other.contact_slope - one.contact_slope) * front * (-1 if arm == "lower" else 1) > 0
    assert (other.wheel_slope - one.wheel_slope) * front < 0


@pytest.mark.parametrize(("rod", "sign"), [((0.42, 0.43, 0.205), -1), ((-0.42, 0.43, 0.205), 1)])
def test_a_rod_pickup_raised_works_by_the_side_it_is_on(rod, sign):
    """Practice: rod ahead of the axle: raising its pickup lowers anti-dive; behind: raises it."""
    linkage = corner_linkage("strut_with_rod").with_points({"rod_inner": rod})
    before, after = (Corner(each) for each in (linkage, moved(linkage, {"rod_inner": (0.0, 0.0, 0.01)})))

    change = reading(after, after.state()).contact_slope - reading(before, before.state()).contact_slope
    assert change * sign > 0


@given(coefficients=st.lists(st.floats(-5, 5), min_size=4, max_size=4))
def test_a_cubic_is_fitted_exactly(coefficients):
    x = [0.01 * i for i in range(-5, 6)]
    y = [sum(c * v**i for i, c in enumerate(coefficients)) for v in x]

    assert polynomial(x, y, 3) == pytest.approx(coefficients, abs=1e-6)


@pytest.mark.parametrize("kind", ["double_wishbone", "strut", "five_link"])
@pytest.mark.parametrize("end", [0, 1])
def test_the_best_shim_is_the_minimum(kind, end):
    linkage = corner_linkage(kind)
    travels = [0.01 * i for i in range(-4, 5)]
    point = linkage.tie_rod[end]

    def change(height):
        return toe_curve(Corner(moved(linkage, {point: (0.0, 0.0, height)})), travels).change

    found = best_shim(linkage, point, travels)
    expected = minimize_scalar(change, bracket=(found.height - 0.004, found.height + 0.003), tol=1e-9)

    assert found.height == pytest.approx(expected.x, abs=2e-6)
    assert found.curve.change <= toe_curve(Corner(linkage), travels).change


@pytest.mark.parametrize(("ahead", "sign"), [(False, -1), (True, 1)])
def test_an_outer_joint_raised_adds_toe_out_behind_the_axle_and_toe_in_ahead(ahead, sign):
    linkage = corner_linkage("double_wishbone")
    if ahead:
        points = linkage.points
        linkage = linkage.with_points({name: (-points[name][0], *points[name][1:]) for name in linkage.tie_rod})
    slopes = [
        toe_curve(Corner(moved(linkage, {linkage.tie_rod[1]: (0.0, 0.0, h)})), [-0.02, -0.01, 0.0, 0.01, 0.02]).slope
        for h in (0.0, 0.005)
    ]

    assert (slopes[1] - slopes[0]) * sign > 0


def test_the_rack_moved_rearward_raises_ackermann():
    for x in (1, -1):
        linkage = corner_linkage("double_wishbone")
        points = linkage.points
        linkage = linkage.with_points({name: (x * points[name][0], *points[name][1:]) for name in linkage.tie_rod})
        shares = []
        for forward in (-0.02, 0.0, 0.02):
            corner = Corner(moved(linkage, {linkage.tie_rod[0]: (forward, 0.0, 0.0)}))
            shares.append(steering.steer_pair(corner, -x * 0.04, 2.4, 1.3).ackermann)
        assert shares[0] > shares[1] > shares[2]


@given(inner=st.floats(0.01, 1.3), wheelbase=st.floats(2, 3), track=st.floats(1, 1.8))
def test_ideal_angles_undo_each_other_and_meet_the_cotangents(inner, wheelbase, track):
    outer = steering.ideal_outer(inner, wheelbase, track)

    assert steering.ideal_inner(outer, wheelbase, track) == pytest.approx(inner, rel=1e-9)
    assert 1 / math.tan(outer) - 1 / math.tan(inner) == pytest.approx(track / wheelbase, rel=1e-9)
    assert steering.ackermann_share(inner, outer, wheelbase, track) == pytest.approx(1.0, rel=1e-9)


@given(
    caster=st.floats(-0.05, 0.2), inclination=st.floats(0, 0.3), static=st.floats(-0.08, 0.03), turn=st.floats(0.1, 0.5)
)
def test_caster_sweep_is_a_rigid_turn(caster, inclination, static, turn):
    axis = np.array([-math.tan(caster), -math.tan(inclination), 1.0])
    axis /= np.linalg.norm(axis)
    start = np.array(spin_axis(static, 0.0))

    def camber_at(toe):
        def heading(angle):
            s = Rotation.from_rotvec(angle * axis).apply(start)
            return math.atan2(s[0], s[1]) - toe

        angle = brentq(heading, -1.2, 1.2, xtol=1e-14)
        return -math.asin(Rotation.from_rotvec(angle * axis).apply(start)[2])

    said = alignment.caster_sweep(caster, inclination, static, turn)

    assert said.turned_in == pytest.approx(camber_at(turn), abs=1e-10)
    assert said.turned_out == pytest.approx(camber_at(-turn), abs=1e-10)


@given(toes=st.lists(st.floats(-0.02, 0.02), min_size=4, max_size=4), skew=st.floats(-0.01, 0.01))
def test_strings_off_parallel_change_nothing(toes, skew):
    """A car drawn with known toe, strings at an angle: the gaps are worked out from coordinates, the answer must be the toe."""
    wheelbase, tracks, rim, off = 2.5, {"front": 1.5, "rear": 1.54}, 0.4, 0.9
    for (axle, x), toe in zip((("front", 0.0), ("rear", -wheelbase)), toes, strict=False):
        hub = tracks[axle] / 2

        def gap(px, py):
            return off + skew * px - py

        ends = [(x + s * rim / 2 * math.cos(toe), hub - s * rim / 2 * math.sin(toe)) for s in (1, -1)]
        hubs = [gap(0.0, tracks["front"] / 2), gap(-wheelbase, tracks["rear"] / 2)]
        string = alignment.string_angle(*hubs, tracks["front"], tracks["rear"], wheelbase)
        found = alignment.toe_from_string(gap(*ends[0]), gap(*ends[1]), rim, string)
        assert found == pytest.approx(toe, abs=2e-5)


@given(seed=st.integers(0, 5000), count=st.integers(4, 9))
@settings(max_examples=40)
def test_a_point_from_distances_is_the_least_squares_point(seed, count):
    rng = np.random.default_rng(seed)
    places = rng.uniform(-1, 1, (count, 3))
    true = rng.uniform(-0.5, 0.5, 3)
    distances = np.linalg.norm(places - true, axis=1) + rng.normal(0, 5e-4, count)
    expected = least_squares(
        lambda p: np.linalg.norm(places - p, axis=1) - distances, true, xtol=1e-15, ftol=1e-15, gtol=1e-15
    )

    found = survey.locate([tuple(p) for p in places], list(distances))

    misfit = sum(r * r for r in found.residuals)
    assert misfit <= 2 * expected.cost * (1 + 1e-9)
    if misfit == pytest.approx(2 * expected.cost, rel=1e-6):
        assert found.point == pytest.approx(expected.x, abs=2e-6)


def test_reference_points_on_a_line_or_too_few_are_refused():
    with pytest.raises(Refused, match="one line"):
        survey.locate([(0, 0, 0), (1, 0, 0), (2, 0, 0), (3, 0, 0)], [1.0, 1.0, 1.5, 2.0])
    with pytest.raises(Refused, match="at least three"):
        survey.locate([(0, 0, 0), (1, 0, 0)], [1.0, 1.0])


def test_effects_of_points_agree_with_high_order_differences():
    linkage = corner_linkage("multi_link")

    def outputs(each):
        corner = Corner(each)
        row = reading(corner, corner.state())
        return [row.roll_centre_height, row.toe_in_rate, row.camber_rate]

    found = effects(linkage, ["camber_link_inner"], outputs)
    start = np.array(linkage.points["camber_link_inner"])

    def at(shift):
        return outputs(linkage.with_points({"camber_link_inner": tuple(start + shift)}))

    for effect_, axis in zip(found, np.eye(3), strict=True):
        expected = derivative(lambda d, a=axis: at(d * a), 0.0, 1e-3)
        assert effect_.per_metre == pytest.approx(expected, rel=1e-4, abs=1e-4)
    assert root_sum(found, 0.001)[0] == pytest.approx(0.001 * math.sqrt(sum(e.per_metre[0] ** 2 for e in found)))


@given(
    arm=st.floats(0.25, 0.45),
    upper=st.floats(0.15, 0.35),
    knuckle=st.floats(0.2, 0.45),
    y=st.floats(0, 0.15),
    z=st.floats(0.2, 0.4),
)
def test_at_a_lock_arm_and_knuckle_are_in_line(arm, upper, knuckle, y, z):
    locks = planar.lock_angles(arm, upper, knuckle, (y, z))

    for angle, length in (
        (locks.droop, upper + knuckle),
        (locks.bump, upper + knuckle),
        (locks.folded, abs(upper - knuckle)),
    ):
        if angle is not None:
            assert math.dist((arm * math.cos(angle), arm * math.sin(angle)), (y, z)) == pytest.approx(length, abs=1e-9)


def test_the_inner_wheel_of_the_chart_turns_more_in_the_example():
    """The example has its tie rod behind the axle: a left turn takes the rack to the right, and the inner wheel is the left one."""
    (figure,) = evaluate("steering_geometry", about(load("steering_geometry")).example)["figures"]
    last = [float(cell.replace("−", "-")) for cell in figure["table"]["rows"][-1]]

    assert all(value > 0 for value in last)
    assert last[1] > last[2]
