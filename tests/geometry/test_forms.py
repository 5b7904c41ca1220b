"""What the calculators over points promise a reader: their inputs named in refusals, answers that agree with one another."""

import json
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from calc import catalogue, form
from calc.answer import answer
from calc.ask.inputs import read_inputs
from calc.geometry.fasteners import bolt_stress, tube_inertia
from calc.refusal import Refused
from tests.geometry.linkages import POINTS


def inputs_of(name, **changed):
    function = catalogue.load(name)
    return read_inputs(form.parameters(function), {**form.about(function).example, **changed})


def ask(name, **changed):
    return catalogue.load(name)(**inputs_of(name, **changed))


def refusal(name, **changed):
    with pytest.raises(Refused) as caught:
        ask(name, **changed)
    return caught.value


KINDS = {kind: {"linkage": kind, "points": POINTS[kind], "spring_on": "carrier"} for kind in POINTS}


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize(
    "name", ["wheel_position", "travel_curves", "wheels_in_roll", "anti_effects", "lowered_on_springs"]
)
def test_every_kind_of_linkage_is_answered_with_figures(name, kind):
    known = {parameter.name for parameter in form.parameters(catalogue.load(name))}
    given = {**form.about(catalogue.load(name)).example, **{k: v for k, v in KINDS[kind].items() if k in known}}

    said = json.loads(answer(json.dumps({"name": name, "inputs": given})))

    assert "answer" in said, said
    assert said["answer"]["figures"]


def test_curves_agree_with_single_positions():
    curves = ask("travel_curves", count=9)
    for i in (0, 3, 8):
        given = inputs_of("travel_curves")
        row = catalogue.load("wheel_position")(
            **{
                k: given[k]
                for k in ("linkage", "points", "loaded_radius", "static_camber", "static_toe_in", "spring_on")
            },
            travel=curves.travel[i],
        )
        assert row.camber == pytest.approx(curves.camber[i], abs=1e-12)
        assert row.roll_centre_height == pytest.approx(curves.roll_centre_height[i], abs=1e-12)
        assert row.spring_ratio == pytest.approx(curves.spring_ratio[i], abs=1e-12)


@pytest.mark.parametrize(("side", "way"), [("bump", "bump"), ("droop", "droop")])
def test_a_sweep_beyond_a_lock_names_the_end_that_is_too_far(side, way):
    problem = refusal("travel_curves", **{side: "600 mm"})

    assert problem.input == side
    assert f"mm of {way} travel" in problem.sentence


def test_a_move_without_a_shift_changes_nothing():
    said = ask("moved_point", up="0 mm")

    assert said.roll_centre_change == 0.0
    assert said.toe_in_rate == said.before_toe_in_rate


@pytest.mark.parametrize("kept", [False, True])
def test_realigned_a_moved_point_keeps_toe_and_camber(kept):
    said = ask("moved_point", up="20 mm", lengths_kept=kept, realign=True, lowered="15 mm")

    assert said.toe_in == pytest.approx(said.before_toe_in, abs=1e-9)
    assert said.camber == pytest.approx(said.before_camber, abs=1e-9)
    assert said.toe_adjusted is not None


def test_an_unknown_point_or_link_is_refused():
    assert refusal("moved_point", point="left headlight").input == "point"
    assert refusal("adjusted_link", link="lower_ball_joint").input == "link"
    assert refusal("ball_joint_spacer", linkage="five_link", points=POINTS["five_link"]).input == "linkage"
    assert refusal("bump_steer", linkage="trailing_arm", points=POINTS["trailing_arm"]).input == "linkage"


def test_the_spacer_pair_keeps_bump_steer_and_the_lone_spacer_spoils_it():
    pair, alone = ask("ball_joint_spacer"), ask("ball_joint_spacer", at_tie_rod="0 mm")

    assert abs(alone.toe_in_rate) > 4 * abs(pair.toe_in_rate)


def test_the_shim_found_is_the_one_that_is_least():
    found = ask("bump_steer")
    fitted = ask("bump_steer", shim=found.best_shim)

    assert fitted.change == pytest.approx(found.best_change, rel=1e-5)
    assert fitted.best_shim == pytest.approx(found.best_shim, abs=2e-6)
    for off in (-0.001, 0.001):
        assert ask("bump_steer", shim=found.best_shim + off).change > found.best_change


def test_steering_to_the_right_mirrors_steering_to_the_left():
    said = ask("steering_geometry")

    assert [-angle for angle in reversed(said.right)] == pytest.approx(said.left, abs=1e-10)


def test_the_ratio_from_points_is_near_the_one_from_the_arm():
    """The plane lever: within a few percent of the full linkage for a rod nearly square to its arm."""
    full = ask("steering_geometry")
    arm = ask("steering_ratio", steering_arm="115 mm")

    assert full.ratio == pytest.approx(arm.ratio, rel=0.04)


@given(left=st.floats(-0.05, 0.05), right=st.floats(-0.05, 0.05))
def test_a_beam_with_its_sides_swapped_is_the_mirror_image(left, right):
    one, other = ask("torsion_beam", left=left, right=right), ask("torsion_beam", left=right, right=left)

    assert one.left_toe_in == pytest.approx(other.right_toe_in, abs=1e-12)
    assert one.axle_steer == pytest.approx(-other.axle_steer, abs=1e-12)


@given(half=st.floats(-0.04, 0.04))
def test_a_beam_in_pure_roll_is_one_turn_about_its_line(half):
    said = ask("torsion_beam", left=half, right=-half)
    bush, shear, wheel = ((0.4, 0.56, 0.3), (0.33, 0.0, 0.34), (0.0, 0.72, 0.3))
    axis = [b - a for a, b in zip(bush, shear, strict=True)]
    size = math.hypot(*axis)
    axis = [a / size for a in axis]

    def turned(angle):
        turn = Rotation.from_rotvec([angle * a for a in axis])
        return bush + turn.apply([w - b for w, b in zip(wheel, bush, strict=True)]), turn.apply([0.0, 1.0, 0.0])

    from scipy.optimize import brentq

    angle = brentq(lambda a: turned(a)[0][2] - wheel[2] - half, -0.5, 0.5, xtol=1e-14)
    spin = turned(angle)[1]
    assert said.left_toe_in == pytest.approx(math.atan2(spin[0], spin[1]), abs=1e-10)
    assert said.left_camber == pytest.approx(-math.asin(spin[2]), abs=1e-10)


@given(force=st.floats(100, 1e5), diameter=st.floats(0.005, 0.03), gap=st.floats(0.001, 0.05))
def test_double_shear_halves_the_shear_and_quarters_the_bending(force, diameter, gap):
    one, two = (bolt_stress(force, diameter, planes, 0.004, 0.05, gap) for planes in (1, 2))

    assert two.shear == pytest.approx(one.shear / 2)
    assert two.bending == pytest.approx(one.bending / 4)


def test_a_tube_is_a_bar_less_its_bore():
    assert tube_inertia(0.03, 0.005) == pytest.approx(tube_inertia(0.03, 0.015) - tube_inertia(0.02, 0.01))


def test_loads_without_a_spring_are_refused():
    points = [
        row for row in form.about(catalogue.load("link_loads")).example["points"] if not row[0].startswith("spring")
    ]

    assert "must have a spring" in refusal("link_loads", points=points).rule


def test_strings_want_every_wheel_once():
    rows = form.about(catalogue.load("string_alignment")).example["readings"]

    assert "rear right" in refusal("string_alignment", readings=rows[:3]).rule
    assert refusal("string_alignment", readings=[*rows, rows[0]]).input == "readings[5].wheel"


def test_one_of_length_and_angle_is_wanted():
    assert refusal("toe_units", angle="0.1 deg").input == "length"
    assert ask("toe_units", length=None, angle="0.25 deg").length == pytest.approx(0.381 * math.sin(math.radians(0.25)))


def test_sides_that_do_not_match_are_refused():
    rows = form.about(catalogue.load("both_sides")).example["right"]

    assert refusal("both_sides", right=rows[:1]).input == "left[2].name"
    assert refusal("both_sides", right=[*rows, ["tie_rod_outer", "0 mm", "-600 mm", "180 mm"]]).input == "right"
