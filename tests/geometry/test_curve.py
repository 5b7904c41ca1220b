"""Any output over travel, steering or roll: the same numbers as one position at a time gives."""

import pytest

from calc.ask.evaluate import evaluate
from calc.form import about
from calc.geometry.forms.curve import SHOWN, linkage_curve
from calc.refusal import Refused

EXAMPLE = dict(about(linkage_curve).example)
CORNER = ("linkage", "points", "loaded_radius", "static_camber", "static_toe_in")
BUT_DAMPER = sorted(set(SHOWN) - {"damper_ratio"})


def curve(**changed):
    said = evaluate("linkage_curve", {**EXAMPLE, **changed}, figures=False)["outputs"]
    return {each["name"]: each["value"] for each in said if each["value"] is not None}


def one(name, **where):
    inputs = {each: EXAMPLE[each] for each in CORNER}
    return {each["name"]: each["value"] for each in evaluate(name, {**inputs, **where}, figures=False)["outputs"]}


@pytest.mark.parametrize("against", ["travel", "rack"])
@pytest.mark.parametrize("shown", BUT_DAMPER)
def test_a_curve_goes_through_the_single_positions(shown, against):
    found = curve(shown=shown, against=against)

    for n in (0, 7, 20):
        alone = one("wheel_position", spring_on="lower_arm", **{against: found[against][n]})
        assert found[SHOWN[shown].kind][n] == pytest.approx(alone[shown], abs=1e-8)


@pytest.mark.parametrize(("shown", "output"), [("camber", "left_camber"), ("toe_in", "left_toe_in")])
def test_over_roll_camber_and_toe_are_those_the_road_sees(shown, output):
    found = curve(shown=shown, against="roll")

    for n in (0, 6, 20):
        assert found["angle"][n] == pytest.approx(one("wheels_in_roll", roll=found["roll"][n])[output], abs=1e-9)


@pytest.mark.parametrize("shown", sorted(set(BUT_DAMPER) - {"roll_centre_height", "camber", "toe_in"}))
def test_over_roll_all_else_is_what_the_travel_of_the_wheel_makes_of_it(shown):
    found = curve(shown=shown, against="roll")

    for n in (0, 13, 20):
        alone = one("wheel_position", spring_on="lower_arm", travel=found["travel"][n])
        assert found[SHOWN[shown].kind][n] == pytest.approx(alone[shown], abs=1e-8)


def test_the_output_stands_in_the_list_of_its_kind_alone():
    for shown in BUT_DAMPER:
        assert set(curve(shown=shown)) == {"travel", SHOWN[shown].kind}


@pytest.mark.parametrize(
    ("changed", "named"),
    [
        ({"shown": "damper_ratio"}, "shown"),
        ({"shown": "roll_centre_height", "against": "roll"}, "shown"),
        ({"bump": "600 mm"}, "bump"),
        ({"against": "rack", "lock": "300 mm"}, "lock"),
    ],
)
def test_what_cannot_be_drawn_is_refused_by_name(changed, named):
    with pytest.raises(Refused) as refusal:
        evaluate("linkage_curve", {**EXAMPLE, **changed})

    assert refusal.value.input == named


def test_the_chart_stands_beside_drawings_whose_points_can_be_moved():
    figures = evaluate("linkage_curve", {**EXAMPLE, "shown": "trail", "against": "rack"})["figures"]

    assert [figure["table"] is None for figure in figures] == [True, True, True, False]
    assert all('data-handle="lower_ball_joint"' in figure["svg"] for figure in figures[:3])
    assert figures[3]["table"]["head"] == ["Rack travel, to the left positive (mm)", "Mechanical trail (mm)"]
