"""Values of a page: what was written is what is asked; references, promises and numbers in the text."""

import pytest

from site_build import cars
from site_build.fences import CalcFence
from site_build.problems import PageProblem
from site_build.values import Page, half_digit, plain, shown

WHEEL = {"spring_rate": "60 N/mm", "lever_ratio": "0.9", "tyre_rate": "210 N/mm"}  # 60 * 0.9^2 = 48.6 N/mm


def fence(inputs=WHEEL, name="wheel_rate", identifier="front", expect=(), line=7):
    return CalcFence(name, identifier, "", dict(inputs), dict(expect), line)


@pytest.fixture
def page():
    made = Page("page.md")
    made.work(fence())
    return made


def refused(call, *arguments):
    with pytest.raises(PageProblem) as problem:
        call(*arguments)
    return str(problem.value)


def test_the_form_shows_what_the_writer_wrote(page):
    texts = page.worked["front"].texts

    assert texts["spring_rate"] == "60 N/mm"
    assert texts["spring_angle"] == "0 °"  # a default
    assert page.worked["front"].answer["inputs"]["spring_rate"] == 60_000


def test_an_empty_fence_shows_the_example_of_the_calculator():
    page = Page("page.md")
    worked = page.work(fence({}))

    assert worked.texts["spring_rate"] == worked.about["example"]["spring_rate"]


@pytest.mark.parametrize(
    ("written", "text"),
    [
        ("`=front.wheel_rate`", "48.6\u00a0N/mm"),
        ("`=front.wheel_rate in lbf/in`", "278\u00a0lbf/in"),  # 48.6 / 0.17512683
        ("`=front.wheel_rate in lb/in to 4`", "277.5\u00a0lbf/in"),
        ("`=front.inputs.spring_rate`", "60\u00a0N/mm"),
        ("`=@tarn-20.body.wheelbase`", "2\u202f560\u00a0mm"),
        ("`=@tarn-20.body.wheelbase in m`", "2.56\u00a0m"),
        ("`=@tarn-20.name`", "Tarn 20"),
        ("``=front.wheel_rate``", "``=front.wheel_rate``"),  # two marks: talks about the syntax
        ("`x = 5`", "`x = 5`"),
    ],
)
def test_a_value_in_the_text_is_computed(page, written, text):
    assert page.inline(f"It is {written}.", 3) == f"It is {text}."


@pytest.mark.parametrize(
    ("written", "told"),
    [
        ("`=rear.wheel_rate`", "page.md:3: no fence above is named #rear"),
        ("`=frnt.wheel_rate`", "Did you mean front?"),
        ("`=front.wheel_rat`", "Did you mean wheel_rate?"),
        ("`=front.inputs.spring_rte`", "Did you mean spring_rate?"),
        ("`=front.wheel_rate in kg`", "must measure stiffness"),
        ("`=front.wheel_rate in furlong`", "is not a unit this book knows"),
        ("`=@tarn-21.name`", "Did you mean tarn-20?"),
        ("`=@tarn-20.bdy.wheelbase`", "Did you mean body?"),
    ],
)
def test_a_value_that_does_not_exist_is_refused_with_the_nearest_name(page, written, told):
    assert told in refused(page.inline, written, 3)


def test_a_result_is_taken_over_with_five_digits_and_shown_as_it_is_asked(page):
    page.work(fence({**WHEEL, "lever_ratio": "0.77"}, identifier="second"))
    ride = {"sprung_mass": "250 kg", "wheel_rate": "=second.wheel_rate", "tyre_rate": "=second.inputs.tyre_rate"}
    worked = page.work(fence(ride, "ride_frequency", "ride"))

    assert worked.texts["wheel_rate"] == "35.574 N/mm"  # 60 * 0.77^2
    assert worked.answer["inputs"]["wheel_rate"] == 35_574


def test_a_car_gives_a_value_as_it_is_written_in_its_file():
    worked = Page("page.md").work(fence({**WHEEL, "spring_rate": "@tarn-20.front.spring_rate"}))

    assert worked.texts["spring_rate"] == cars.lookup("tarn-20.front.spring_rate")


@pytest.mark.parametrize("promise", ["48.6 N/mm", "49 N/mm", "48600 N/m", "277.5 lbf/in", "48,60 N/mm", "4.86e4 N/m"])
def test_a_kept_promise_passes_in_any_unit_and_with_any_digits(promise):
    Page("page.md").work(fence(expect={"wheel_rate": promise}))


@pytest.mark.parametrize(
    ("expect", "told"),
    [
        ({"wheel_rate": "48.7 N/mm"}, "page.md:7: wheel_rate is promised to be 48.7 N/mm, but it is 48.6 N/mm"),
        ({"wheel_rate": "48.59 N/mm"}, "but it is 48.6 N/mm"),
        ({"wheel_rate": "48.6 kg"}, "must measure stiffness"),
        ({"wheel_rate": "soft"}, "must be a number with its unit"),
        ({"whel_rate": "48.6 N/mm"}, "Did you mean wheel_rate?"),
    ],
)
def test_a_broken_promise_fails_the_page(expect, told):
    assert told in refused(Page("page.md").work, fence(expect=expect))


@pytest.mark.parametrize(
    ("inputs", "told"),
    [
        (
            {**WHEEL, "sprng_rate": "60 N/mm"},
            "page.md:7: wheel_rate has no input 'sprng_rate'. Did you mean spring_rate?",
        ),
        ({**WHEEL, "spring_rate": "-60 N/mm"}, "Spring rate (spring_rate) must be greater than 0"),
        ({**WHEEL, "spring_rate": "60 kg"}, "must measure stiffness"),
        ({"spring_rate": "60 N/mm"}, "is needed"),
        ({**WHEEL, "spring_rate": "=rear.wheel_rate"}, "no fence above is named #rear"),
        ({**WHEEL, "spring_rate": "@tarn-20.front"}, "is a table, not a value"),
    ],
)
def test_inputs_that_cannot_be_used_fail_the_page_in_the_words_of_calc(inputs, told):
    assert told in refused(Page("page.md").work, fence(inputs))


def test_an_unknown_calculator_is_refused_with_the_nearest_name():
    assert "Did you mean wheel_rate?" in refused(Page("page.md").work, fence(name="wheel_rat"))


def test_a_name_is_given_once(page):
    assert "already the name of an earlier fence" in refused(page.work, fence())


def test_fences_without_a_name_get_one_each():
    page = Page("page.md")

    assert [page.work(fence(identifier="")).id for _ in range(3)] == ["wheel_rate", "wheel_rate-2", "wheel_rate-3"]


@pytest.mark.parametrize(
    ("value", "text"),
    [
        ("12 deg", "12 °"),  # an alias of a unit the form offers
        ("0.2 m", "200 mm"),  # a unit it does not offer
        ("0.25", "250 mm"),  # a bare number is SI
        (0.25, "250 mm"),
        ("2,5 mm", "2,5 mm"),
        ("3 in", "3 in"),
        ("12 kg", "12 kg"),  # for calc to refuse in its own words
        (None, ""),
    ],
)
def test_a_value_is_shown_in_a_unit_of_the_form(value, text):
    unit = "°" if value == "12 deg" else "mm"
    offered = {"°": ["°", "rad"], "mm": ["mm", "in"]}[unit]
    about = {"kind": "number", "unit": unit, "units": [{"symbol": each} for each in offered]}

    assert shown(about, value) == text


@pytest.mark.parametrize(
    ("text", "half"), [("1160 kg", 0.5), ("2.23 Hz", 0.005), ("1,5 mm", 0.05), ("4.86e4 N", 50), ("−0.060", 0.0005)]
)
def test_a_promise_reaches_as_far_as_its_digits(text, half):
    assert half_digit(text) == pytest.approx(half, rel=1e-12)


@pytest.mark.parametrize(
    ("value", "text"), [(1e-7, "0.0000001"), (123456789.0, "123457000"), (-0.5, "-0.5"), (0.0, "0")]
)
def test_a_number_is_written_as_somebody_would_type_it(value, text):
    assert plain(value) == text
