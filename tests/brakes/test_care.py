"""Slips of units get their warning, every brake calculator its caution, and every circuit of the scenarios computes."""

import tomllib
from pathlib import Path

import pytest

from calc import catalogue, form
from calc.ask.evaluate import evaluate
from calc.brakes.care import CAUTION
from calc.brakes.circuit import circuit_travel
from calc.brakes.fluid import GRADES, brake_fluid
from calc.brakes.heat.inputs import EXAMPLE
from calc.brakes.long_pedal import CAUSES, long_pedal
from calc.brakes.travel import Circuit, pedal_travel
from calc.refusal import Refused
from calc.units import Quantity, read

NAMES = [name for name in catalogue.names() if catalogue.entry(name).chapter == "brakes"]
CIRCUITS = Path(__file__).parents[2] / "scenarios" / "circuits"


def _example(name, **changed):
    return {**form.about(catalogue.load(name)).example, **changed}


def _cautions(name, **changed):
    remarks = evaluate(name, _example(name, **changed), figures=False)["remarks"]
    return {remark["about"]: remark["text"] for remark in remarks if remark["level"] == "caution"}


@pytest.mark.parametrize("name", NAMES)
def test_every_brake_calculator_ends_with_the_caution(name):
    remarks = evaluate(name, _example(name), figures=False)["remarks"]

    assert remarks[-1]["text"] == CAUTION.text


@pytest.mark.parametrize("name", NAMES)
def test_no_example_looks_like_a_slip_of_units(name):
    assert not [text for text in _cautions(name).values() if "meant" in text or "kelvin" in text or "typed" in text]


@pytest.mark.parametrize(
    ("name", "changed", "says"),
    [
        ("caliper_clamp", {"line_pressure": 70.0}, "70 bar"),
        ("caliper_clamp", {"line_pressure": "250 bar"}, "200 bar"),
        ("brake_valve", {"front_pressure": 60.0}, "60 bar"),
        ("lap_heat", {"ambient": "293 °C"}, "kelvin"),
        ("disc_cooling", {"ambient": 25.0}, "kelvin"),
        ("brake_balance", {"front_brake_share": "0.72 %"}, "percent"),
        ("pedal_effort", {"friction": 0.9}, "above 0.8"),
        ("brake_balance", {"adhesion": 2.4}, "above 2.2"),
        ("brake_distribution", {"deceleration": 0.25}, "in g"),
    ],
)
def test_a_slip_of_units_is_warned_about(name, changed, says):
    (about,) = changed

    assert says in _cautions(name, **changed)[about]


def test_percent_given_as_a_fraction_is_refused_with_its_value():
    with pytest.raises(Refused) as caught:
        evaluate("brake_balance", _example("brake_balance", front_brake_share=62.0))
    assert caught.value.input == "front_brake_share"
    assert "at most 100" in caught.value.sentence


def test_an_upside_down_pedal_ratio_is_remarked():
    remarks = evaluate("brake_forces", _example("brake_forces", pedal_ratio="0.19"), figures=False)["remarks"]

    assert any(remark["about"] == "pedal_ratio" for remark in remarks)


@pytest.mark.parametrize("cause", CAUSES, ids=lambda cause: cause.name)
def test_each_cause_of_a_long_pedal_fits_its_own_signs_best(cause):
    pumped = 0.02 if cause.pumps_up else 0.0
    found = long_pedal(
        expected=0.05,
        first_press=0.08,
        second_press=0.08 - pumped,
        sinks=0.01 if cause.sinks else 0.0,
        feel=cause.feel or "spongy",
        when=cause.when[-1],
        pedal_ratio=5.0,
        bore=0.019,
        one_side_area=0.0022,
        line_pressure=3e6,
    )

    assert cause.name in found.likely[:3]
    assert cause.test in found.tests


def test_the_air_that_explains_a_long_pedal_makes_it_that_long():
    same = {
        "one_side_area": 0.0022,
        "clearance": 0.00015,
        "line_pressure": 3e6,
        "caliper_give": 6e-14,
        "hose_length": 0.6,
        "hose_give": 2.5e-14,
        "fluid": 45e-6,
        "bore": 0.019,
        "available_stroke": 0.03,
        "pedal_ratio": 5.0,
    }
    right = circuit_travel(**same).pedal_travel
    found = long_pedal(
        expected=right,
        first_press=right + 0.03,
        second_press=right + 0.02,
        feel="spongy",
        when="always",
        pedal_ratio=5.0,
        bore=0.019,
        one_side_area=0.0022,
        line_pressure=3e6,
    )
    with_air = circuit_travel(**same, air=found.air_that_explains).pedal_travel
    with_gap = circuit_travel(**same, knock_back=found.gap_that_explains).pedal_travel

    assert with_air == pytest.approx(right + 0.02)
    assert with_gap == pytest.approx(right + 0.01)


def test_a_lost_circuit_always_lengthens_the_pedal():
    rows = (Circuit(0.0022, 6e6, 0.019, 0.03), Circuit(0.0011, 5e6, 0.0206, 0.03))
    for cylinders in ("twin", "tandem"):
        found = pedal_travel(cylinders=cylinders, circuits=rows, pedal_ratio=5.0, free_travel=0.15)

        assert min(found.front_lost_travel, found.rear_lost_travel) > found.pedal_travel
    short = pedal_travel(cylinders="tandem", circuits=rows, pedal_ratio=5.0, free_travel=0.08)
    assert any("must not move" in flag for flag in short.flags)


@pytest.mark.parametrize("grade", GRADES)
def test_silicone_mixes_with_nothing_else(grade):
    if grade == "DOT 5":
        assert brake_fluid(grade="DOT 5", mixed_with=grade).dry
        return
    with pytest.raises(Refused, match="do not mix"):
        brake_fluid(grade="DOT 5", mixed_with=grade)
    assert brake_fluid(grade="DOT 3", mixed_with=grade).dry <= GRADES[grade].dry


def test_water_and_height_only_ever_lower_the_boiling_point():
    points = [
        brake_fluid(grade="DOT 4", water=w, height=h).boiling
        for w, h in ((0, 0), (0.01, 0), (0.01, 1000), (0.037, 1000))
    ]

    assert points == sorted(points, reverse=True)
    assert brake_fluid(grade="DOT 4", water=0.037).boiling == pytest.approx(GRADES["DOT 4"].wet)


def _si(text, dimension, unit):
    return read(text, Quantity(dimension, unit))


@pytest.mark.parametrize("path", sorted(CIRCUITS.glob("*.toml")), ids=lambda path: path.stem)
def test_a_circuit_adds_up_and_heats_the_brakes(path):
    circuit = tomllib.loads(path.read_text("utf-8"))
    rows = [
        [zone[name] for name in ("entry_speed", "exit_speed", "deceleration", "time_to_next")]
        for zone in circuit["zones"]
    ]
    answer = evaluate("lap_heat", {**EXAMPLE, "zones": rows, "ambient": circuit["ambient"]}, figures=False)
    zones = [
        (_si(v1, "speed", "m/s"), _si(v2, "speed", "m/s"), _si(d, "acceleration", "m/s²"), _si(t, "time", "s"))
        for v1, v2, d, t in rows
    ]
    length = sum((v1 * v1 - v2 * v2) / (2 * d) for v1, v2, d, _ in zones)
    after = [zone[0] for zone in zones[1:]]
    after.append(_si(circuit["finish_speed"], "speed", "m/s") if circuit["kind"] == "hillclimb" else zones[0][0])
    length += sum(t * (v2 + then) / 2 for (_, v2, _, t), then in zip(zones, after, strict=True))
    length += _si(circuit.get("start_distance", "0 m"), "length", "m")

    assert length == pytest.approx(_si(circuit["length"], "length", "m"), rel=0.02)
    assert {corner["zone"] for corner in circuit["corners"] if "zone" in corner} == set(range(1, len(zones) + 1))
    for corner in circuit["corners"]:
        across = _si(corner["speed"], "speed", "m/s") ** 2 / _si(corner["radius"], "length", "m")
        assert 8 < across < 13, corner["name"]
        if "zone" in corner:
            assert zones[corner["zone"] - 1][1] == pytest.approx(_si(corner["speed"], "speed", "m/s"))
    assert any(output["name"] == "disc_peak" for output in answer["outputs"])


def test_scarhill_is_the_example_of_the_lap():
    circuit = tomllib.loads((CIRCUITS / "scarhill.toml").read_text("utf-8"))
    rows = [
        [zone[name] for name in ("entry_speed", "exit_speed", "deceleration", "time_to_next")]
        for zone in circuit["zones"]
    ]

    assert len(circuit["corners"]) == 11
    assert [[float(cell.split()[0]) for cell in row] for row in rows] == [
        [float(cell.split()[0]) for cell in row] for row in EXAMPLE["zones"]
    ]
