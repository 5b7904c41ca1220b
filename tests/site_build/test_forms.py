"""A form is complete HTML before any script: labelled, limited, answered; and what people write cannot break out of it."""

from html.parser import HTMLParser

import pytest

from calc import catalogue
from site_build import asking, fields, forms
from site_build.fences import CalcFence
from site_build.markup import tag
from site_build.values import Page

VOID = {"input", "br", "hr", "img"}


class Reader(HTMLParser):
    """Reads HTML strictly: every element is closed in order, no identifier comes twice."""

    def __init__(self, html):
        super().__init__()
        self.open, self.elements = [], []
        self.feed(html)
        assert self.open == []
        named = [given["id"] for _, given in self.elements if "id" in given]
        assert len(named) == len(set(named)), "an identifier comes twice"

    def handle_starttag(self, name, attributes):
        self.elements.append((name, dict(attributes)))
        if name not in VOID:
            self.open.append(name)

    def handle_startendtag(self, name, attributes):
        self.elements.append((name, dict(attributes)))

    def handle_endtag(self, name):
        assert self.open.pop() == name

    def all(self, name, **wanted):
        return [given for each, given in self.elements if each == name and wanted.items() <= given.items()]


@pytest.fixture
def toy(monkeypatch):
    """The toy calculator, known to calc and to the build."""
    entry = catalogue.Entry("lever", "tests.site_build.toy", "springs")
    monkeypatch.setitem(catalogue.CATALOGUE, "lever", entry)
    yield "lever"
    asking.describe.cache_clear()
    catalogue.load.cache_clear()


def worked(name, inputs=()):
    return Page("page.md").work(CalcFence(name, "it", "", dict(inputs), {}, 1))


def test_every_input_has_a_label_a_box_and_its_help(toy):
    read = Reader(forms.calculator(worked(toy)))

    labels = {given["for"] for given in read.all("label") if "for" in given}
    for name in ("force", "arm", "offset", "held", "turns", "colour", "note"):
        assert f"it-{name}" in labels
    hints = {given.get("id") for given in read.all("p")}
    for _, given in read.elements:
        for one in given.get("aria-describedby", "").split():
            assert one in hints


def test_boxes_take_text_with_the_right_keyboard_and_never_number_fields(toy):
    read = Reader(forms.calculator(worked(toy)))

    assert read.all("input", type="number") == []
    assert read.all("input", id="it-force")[0]["inputmode"] == "decimal"
    assert read.all("input", id="it-turns")[0]["inputmode"] == "numeric"
    assert read.all("input", id="it-held")[0]["placeholder"] == "leave empty if unknown"
    assert read.all("input", id="it-held")[0]["value"] == ""


def test_each_unit_carries_its_factor_limits_and_typical_range(toy):
    read = Reader(forms.calculator(worked(toy)))

    inch = next(given for given in read.all("option", value="in") if given["data-limits"])
    assert float(inch["data-factor"]) == 0.0254
    assert "78.74" in inch["data-limits"]  # 2 m
    pound = next(given for given in read.all("option", value="lbf") if given["data-typical"])
    assert pound["data-typical"].startswith("2.2 to 112")  # 10 N and 500 N


def test_only_an_input_that_may_be_negative_has_a_button_for_the_sign(toy):
    read = Reader(forms.calculator(worked(toy)))

    assert [given["aria-label"] for given in read.all("button", **{"class": "turn"})] == [
        "Force already there: change sign"
    ]


def test_few_choices_stand_open_and_many_fold(toy):
    read = Reader(forms.calculator(worked(toy)))

    assert [given["value"] for given in read.all("input", type="radio")] == ["push", "pull"]
    assert read.all("select", id="it-colour")


def test_a_table_has_units_in_its_head_and_a_named_cell_for_every_number(toy):
    read = Reader(forms.calculator(worked(toy)))

    heads = [given["data-column"] for given in read.all("th") if "data-column" in given]
    assert heads == ["name", "distance", "used"]
    cells = [given for given in read.all("input") if given.get("aria-labelledby") == "it-holes-distance"]
    assert [given["value"] for given in cells] == ["100", "200"]
    assert [given["aria-label"] for given in read.all("button", **{"class": "remove-row"})] == [
        "Remove row 1",
        "Remove row 2",
    ]


def test_the_answer_the_working_and_the_lists_are_written_out(toy):
    html = forms.calculator(worked(toy))
    read = Reader(html)

    assert [given["data-output"] for _, given in read.elements if "data-output" in given] == [
        "lifted",
        "verdict",
        "mass",
        "ratio",
        "lifted",
    ]
    assert '<mn data-value="offset">(−5)</mn>' in html
    assert [given["data-list"] for given in read.all("th") if "data-list" in given] == ["steps"]
    assert "<td>10.0</td>" in html  # 100 N at 0.1 m
    assert "<b>Caution</b> Mind your fingers &amp; toes." in html


def test_a_result_without_a_value_shows_no_unit(toy):
    read = Reader(forms.calculator(worked(toy)))
    units = [given for given in read.all("span", **{"class": "unit"}) if given.get("data-label") == "Mass it holds"]

    assert "hidden" in units[0]


def test_what_is_written_cannot_become_html(toy):
    nasty = '"><script>alert(1)</script>'
    html = forms.calculator(
        worked(toy, {"force": "100 N", "arm": "300 mm", "note": nasty, "holes": [[nasty, "10 mm", True]]})
    )

    assert "<script" not in html
    assert "Force &lt;along&gt;" in html
    values = [given["value"] for given in Reader(html).all("input") if "script" in given.get("value", "")]
    assert values == [nasty, nasty]


def test_nothing_needs_a_style_or_a_handler(toy):
    for _, given in Reader(forms.calculator(worked(toy))).elements:
        assert "style" not in given
        assert not any(name.startswith("on") for name in given)


@pytest.mark.parametrize("name", catalogue.names())
def test_every_calculator_of_the_book_has_a_sound_form(name):
    done = worked(name)
    read = Reader(forms.calculator(done))

    given = {given["data-input"] for _, given in read.elements if "data-input" in given}
    assert given == {about["name"] for about in done.about["inputs"]}


def test_the_unit_of_a_text_is_the_longest_that_fits():
    about = {"unit": "N·m", "units": [{"symbol": "m"}, {"symbol": "N·m"}]}

    assert fields.split_text("5 N·m", about) == ("5", "N·m")
    assert fields.split_text("5", about) == ("5", "N·m")


def test_an_attribute_is_escaped_or_left_out():
    assert (
        tag("p", "a<b", class_="x", title='"&', hidden=False, data_n=0)
        == '<p class="x" title="&quot;&amp;" data-n="0">a&lt;b</p>'
    )
