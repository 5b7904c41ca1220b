"""The car file: every value kept, every problem named with its line, nothing dropped."""

import contextlib
from typing import Annotated, Literal, NamedTuple

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.car.lines import FileProblems, lines_of, parse
from calc.car.read import read_values
from calc.car.values import measured
from calc.car.write import write_values, written
from calc.form import Choice, Input, fields
from calc.refusal import Refused
from calc.units import Kelvins, Kilograms, Metres, MetresPerSecond, Newtons, NewtonsPerMetre, Quantity, Ratio, read


class Dyno(NamedTuple):
    speed: Annotated[MetresPerSecond, Input("Speed", unit="mm/s", at_least=0)]
    force: Annotated[Newtons, Input("Force", unit="N")]


class Mass(NamedTuple):
    front_left: Annotated[Kilograms | None, Input("Left front", unit="kg", above=0)] = None
    share: Annotated[Ratio | None, Input("Share", unit="%", above=0, below=1)] = None


class Axle(NamedTuple):
    spring_rate: Annotated[NewtonsPerMetre | None, Input("Spring rate", unit="N/mm", above=0)] = None
    offset: Annotated[Metres | None, Input("Offset", unit="mm")] = None
    coils: Annotated[int | None, Input("Coils", at_least=1)] = None
    independent: bool | None = None
    kind: Annotated[Literal["strut", "wishbone"] | None, Choice("Kind", {})] = None
    dyno: Annotated[tuple[Dyno, ...] | None, Input("Dyno")] = None
    hot: Annotated[Kelvins | None, Input("Hot", unit="°C")] = None


SCHEMA = {
    **fields(Mass, "mass"),
    **fields(Axle, "front"),
    **fields(Axle, "rear"),
}
TEXT = """\
format = 1

[mass]
front_left = "312 kg"
share = "52.6 %"

[front]
spring_rate = { value = "60 N/mm +- 2 N/mm", note = "on the press" }
offset = "-1,5 mm +- 10 %"
coils = 6
independent = true
kind = "strut"
dyno = [
    ["100 mm/s", "250 N"],
    ["200 mm/s", "400 N"],
]
hot = "90 °C +- 5 °C"
"""


def values_of(text):
    return read_values(text, SCHEMA, 1, {})


def problems_of(text):
    with pytest.raises(FileProblems) as caught:
        values_of(text)
    return caught.value.problems


def test_values_tolerances_and_notes_are_read():
    values = values_of(TEXT)

    assert values.number("mass.front_left") == 312.0
    assert values.tolerance("mass.front_left") is None
    assert values.number("front.spring_rate") == 60e3
    assert values.tolerance("front.spring_rate") == pytest.approx(2e3)
    assert values.leaves["front.spring_rate"].note == "on the press"
    assert values.tolerance("front.offset") == pytest.approx(0.00015)
    assert values.value("front.dyno")[1] == Dyno(0.2, 400.0)
    assert (values.value("front.coils"), values.value("front.independent"), values.value("front.kind")) == (
        6,
        True,
        "strut",
    )
    assert values.number("front.hot") == pytest.approx(363.15)
    assert values.tolerance("front.hot") == pytest.approx(5)
    assert values.number("rear.spring_rate") is None


def test_a_file_without_comments_comes_back_letter_by_letter():
    assert write_values(values_of(TEXT), SCHEMA, 1) == TEXT


def test_every_problem_is_named_at_once_with_its_line():
    found = problems_of(
        '[mass]\nfront_left = "-3 kg"\nfront_lft = "3 kg"\n\n[front]\nspring_rate = "60"\noffset = "3 kg"\ncoils = 0\n'
        'kind = "beam"\nindependent = "yes"\ndyno = [["100 mm/s"], ["-1 mm/s", "5 N"]]\n\n[middle]\nx = "1 mm"\n'
    )

    assert [(each.line, each.key) for each in found] == [
        (2, "mass.front_left"),
        (3, "mass.front_lft"),
        (6, "front.spring_rate"),
        (7, "front.offset"),
        (8, "front.coils"),
        (9, "front.kind"),
        (10, "front.independent"),
        (11, "front.dyno[1]"),
        (14, "middle.x"),
    ]
    sentences = {each.key: each.sentence for each in found}
    assert sentences["mass.front_left"] == "Line 2: mass.front_left must be greater than 0\u00a0kg; got -3 kg."
    assert "Did you mean front_left?" in sentences["mass.front_lft"]
    assert "needs a unit" in sentences["front.spring_rate"]
    assert '"60 N/mm"' in sentences["front.spring_rate"]


@pytest.mark.parametrize(
    ("line", "hint"),
    [
        ("offset = 1,5", "decimal comma"),
        ("spring_rate = 60 N/mm", 'Put a value with a unit in quotes: "60 N/mm"'),
        ("spring_rate = ", ""),
        ("[front", ""),
    ],
)
def test_a_text_that_is_no_toml_gets_its_line_and_a_hint(line, hint):
    (found,) = problems_of(f"[front]\n{line}\n")

    assert found.line in {2, 3}
    assert hint in found.sentence


def test_a_newer_format_and_a_broken_one_are_refused():
    for given_format in ("2", "0", '"1"', "true"):
        (found,) = problems_of(f"format = {given_format}\n")
        assert "from 1 to 1" in found.rule


def test_an_older_format_is_carried_forward():
    def renamed(tables):
        return {**tables, "mass": {"front_left": tables["mass"]["lf"]}}

    values = read_values('format = 1\n[mass]\nlf = "300 kg"\n', SCHEMA, 2, {1: renamed})

    assert values.number("mass.front_left") == 300


def test_a_number_needs_quotes_and_a_unit_unless_it_is_a_ratio():
    assert values_of("[mass]\nshare = 0.5\n").number("mass.share") == 0.5
    (found,) = problems_of("[front]\nspring_rate = 60\n")
    assert "needs a unit" in found.sentence


@pytest.mark.parametrize("text", ["1 mm +- 2 mm +- 3 mm", "1 mm +- 2 kg", "1 mm +- -2 mm", "x", "+- 1 mm", "1 mm +- "])
def test_a_tolerance_that_cannot_be_read_is_refused(text):
    with pytest.raises(Refused):
        measured(text, Quantity("length", "m"))


lengths = st.floats(-10, 10).map(lambda v: f"{v!r} mm")
leaf = st.one_of(
    st.builds("{} +- {} mm".format, lengths, st.floats(0, 1).map(repr)),
    lengths,
    st.builds("{} in".format, st.integers(1, 40)),
)


@given(st.dictionaries(st.sampled_from(["front.offset", "rear.offset"]), leaf))
def test_what_is_written_reads_back_the_same(offsets):
    text = "".join(f'[{path.partition(".")[0]}]\noffset = "{value}"\n' for path, value in offsets.items())
    once = values_of(text)
    again = values_of(write_values(once, SCHEMA, 1))

    assert again == once
    assert write_values(again, SCHEMA, 1) == write_values(once, SCHEMA, 1)


@given(st.floats(-1e6, 1e6))
def test_a_number_is_written_with_every_digit_that_matters(value):
    assert read(written(value, "mm"), Quantity("length", "m")) == pytest.approx(value, rel=1e-11, abs=1e-30)


broken_lines = st.sampled_from(TEXT.splitlines()).flatmap(
    lambda line: st.tuples(st.integers(0, len(line)), st.text(max_size=3)).map(
        lambda cut: line[: cut[0]] + cut[1] + line[cut[0] + 1 :]
    )
)


@given(st.integers(0, len(TEXT.splitlines()) - 1), broken_lines)
def test_no_broken_file_does_worse_than_a_sentence(at, line):
    lines = TEXT.splitlines()
    lines[at] = line
    try:
        values_of("\n".join(lines))
    except FileProblems as problem:
        for each in problem.problems:
            assert each.sentence.endswith((".", "?"))


@given(st.text())
def test_no_text_breaks_the_reader(text):
    with contextlib.suppress(FileProblems):
        values_of(text)


def test_lines_are_found_under_dotted_and_spaced_headers():
    assert lines_of('[ front . dyno ]\na.b = 1\n# [x]\n"q" = 2') == {"front.dyno": 1, "front.dyno.a.b": 2}
    assert parse("a.b = 1") == {"a": {"b": 1}}
