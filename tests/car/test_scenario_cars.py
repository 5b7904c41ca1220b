"""The scenario cars are sound car files, and stay what they are through reading and writing."""

from pathlib import Path

import pytest

from calc.__main__ import main
from calc.car.schema import SCHEMA, read_car, write_car

CARS = sorted((Path(__file__).parents[2] / "scenarios" / "cars").glob("*.toml"))


@pytest.mark.parametrize("file", CARS, ids=lambda file: file.stem)
def test_a_scenario_car_is_sound_and_survives_a_round_trip(file):
    values = read_car(file.read_text(encoding="utf-8"))
    again = read_car(write_car(values))

    assert values.leaves.keys() == again.leaves.keys()
    for path in values.leaves:
        assert list(flat(again.value(path))) == pytest.approx(list(flat(values.value(path)))), path
    assert write_car(again) == write_car(values)


def flat(value):
    """Yield the numbers of a value, and the length of its texts."""
    if isinstance(value, tuple):
        for each in value:
            yield from flat(each)
    else:
        yield len(value) if isinstance(value, str) else value


def test_every_key_has_a_label_and_a_unit_or_is_text():
    for path, parameter in SCHEMA.items():
        assert parameter.input.label[0].isupper(), path
        assert parameter.kind in {"number", "text", "table"}


def test_the_command_line_checks_a_car(tmp_path, capsys):
    sound, broken = tmp_path / "sound.toml", tmp_path / "broken.toml"
    sound.write_text('name = "Mine"\n[body]\nwheelbase = "2560 mm +- 3 mm"\n', encoding="utf-8")
    broken.write_text('[body]\nwheelbse = "2560 mm"\nfront_track = "1.5"\n', encoding="utf-8")

    assert main(("check", str(sound))) == 0
    assert main(("check", str(broken))) == 2
    said = capsys.readouterr().err
    assert "Line 2: body.wheelbse is not a key of a car file. Did you mean wheelbase?" in said
    assert "Line 3: body.front_track needs a unit" in said
    assert main(("check", str(tmp_path / "none.toml"))) == 2
