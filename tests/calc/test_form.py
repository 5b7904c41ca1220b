"""A signature is a form: what is read from types, and what is refused."""

from typing import Annotated, Literal, NamedTuple

import pytest

from calc.ask.inputs import read_inputs
from calc.form import Choice, Input, Output, calculator, parameters, results
from calc.refusal import Refused, RefusedTogether
from calc.units import Metres, MetresPerSecond, Newtons, Ratio


class Row(NamedTuple):
    speed: Annotated[MetresPerSecond, Input("Speed", "v", "mm/s", at_least=0)]
    force: Annotated[Newtons, Input("Force", "F", "N")]


class Answer(NamedTuple):
    length: Annotated[Metres | None, Output("Length", "l", "mm")]
    flags: tuple[str, ...] = ()


@calculator(title="Try", question="Does it?", example={})
def tried(
    *,
    length: Annotated[Metres, Input("Length", "l", "mm", above=0, below=2)],
    share: Annotated[Ratio, Input("Share", "s", "%", at_least=0, at_most=1)] = 0.5,
    kind: Annotated[Literal["short", "long"], Choice("Kind", {"short": "a short one"})] = "short",
    count: Annotated[int, Input("Count", at_least=1)] = 1,
    loud: bool = False,
    offset: Annotated[Metres | None, Input("Offset", unit="mm")] = None,
    rows: Annotated[tuple[Row, ...], Input("Rows")] = (Row(0.1, 5.0),),
) -> Answer:
    return Answer(
        float("nan") if share == 1 else None if share == 0 else 1e308 * 10 * length if length > 1.9 else length
    )


def test_a_signature_is_read():
    kinds = {each.name: each.kind for each in parameters(tried)}

    assert kinds == {
        "length": "number",
        "share": "number",
        "kind": "choice",
        "count": "integer",
        "loud": "switch",
        "offset": "number",
        "rows": "table",
    }
    by_name = {each.name: each for each in parameters(tried)}
    assert by_name["length"].required
    assert not by_name["share"].required
    assert by_name["offset"].optional
    assert by_name["kind"].options == ("short", "long")
    assert by_name["kind"].words == ("a short one", "long")
    assert [column.name for column in by_name["rows"].columns] == ["speed", "force"]
    assert [each.name for each in results(tried)] == ["length"]


@pytest.mark.parametrize(
    ("given", "rule"),
    [
        ({}, "is needed"),
        ({"length": 0.0}, "greater than 0"),
        ({"length": 2.0}, "less than 2"),
        ({"length": True}, "must be a number"),
        ({"length": "1"}, "must be a number"),
        ({"length": float("nan")}, "finite"),
        ({"length": float("inf")}, "finite"),
        ({"length": 1.0, "share": -0.1}, "at least 0"),
        ({"length": 1.0, "share": 1.1}, "at most 100"),
        ({"length": 1.0, "share": 62.0}, "Did you mean 62.%"),
        ({"length": 1.0, "kind": "wide"}, "one of short, long"),
        ({"length": 1.0, "count": 1.5}, "whole number"),
        ({"length": 1.0, "count": 0}, "at least 1"),
        ({"length": 1.0, "loud": "yes"}, "true or false"),
        ({"length": 1.0, "rows": ()}, "at least one row"),
        ({"length": 1.0, "rows": (Row(-1.0, 1.0),)}, r"rows\[1\].speed\) must be at least"),
        ({"length": 1.0, "width": 1.0}, "is not an input"),
        ({"length": 1.0, "share": 1.0}, "cannot be computed"),
        ({"length": 1.95}, "cannot be computed"),
    ],
)
def test_what_breaks_a_rule_is_refused_by_name(given, rule):
    with pytest.raises(Refused, match=rule):
        tried(**given)


def test_several_problems_come_together():
    with pytest.raises(RefusedTogether) as caught:
        tried(length=-1.0, share=3.0)

    assert [each.input for each in caught.value.refusals] == ["length", "share"]


def test_arguments_are_named():
    with pytest.raises(TypeError, match="keyword"):
        tried(1.0)


def test_a_result_may_be_none():
    assert tried(length=1.0, share=0.0).length is None


def test_what_a_reader_wrote_becomes_arguments():
    read = read_inputs(
        parameters(tried),
        {
            "length": "12,5 mm",
            "loud": "true",
            "count": "3",
            "offset": "",
            "rows": [["100 mm/s", "5 N"], {"speed": "0,2", "force": 7}],
        },
    )

    assert read["length"] == pytest.approx(0.0125)
    assert (read["loud"], read["count"], read["offset"], read["kind"]) == (True, 3, None, "short")
    assert read["rows"] == (Row(0.1, 5.0), Row(0.2, 7.0))


def test_a_bad_cell_is_named():
    with pytest.raises(RefusedTogether) as caught:
        read_inputs(parameters(tried), {"length": "1 m", "rows": [["100 mm/s", "x"], ["-1 mm/s", "5 N"], ["1"]]})

    assert [each.input for each in caught.value.refusals] == ["rows[1].force", "rows[2].speed", "rows[3]"]


def test_trailing_cells_that_may_be_empty_can_be_left_out():
    class Zone(NamedTuple):
        speed: Annotated[MetresPerSecond, Input("Speed", unit="km/h")]
        name: str = ""

    @calculator(title="Zones", question="How many?", example={})
    def zones(*, rows: Annotated[tuple[Zone, ...], Input("Zones")]) -> Answer:
        return Answer(float(len(rows)))

    assert read_inputs(parameters(zones), {"rows": [["36 km/h"], ["72 km/h", "hairpin"]]})["rows"] == (
        Zone(10.0, ""),
        Zone(20.0, "hairpin"),
    )
