"""What a reader is promised of a calculator in the page. The pages are a small book of the tests' own."""

import base64
import json
import zlib

import pytest
from playwright.sync_api import expect

from site_build.build import build_site
from tests.browser.conftest import Host
from tests.small_book import project

WHEEL = "/springs/wheel.html"
TABLES = "/loads/tables.html"


@pytest.fixture(scope="module")
def book(tmp_path_factory):
    """The address of the small book."""
    root = tmp_path_factory.mktemp("book")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("HANDBOOK_COMPLETE", "false")
        build_site(project(root), root / "site", say=lambda line: None)
    host = Host(root / "site")
    yield host.url
    host.stop()


def opened(page, address):
    """Open a page and wait until Python answers."""
    page.goto(address)
    expect(page.locator(".calculator .state").first).to_have_text("live", timeout=60_000)
    return page


def answered(page, form="#front"):
    """Wait until what is shown belongs to what is typed."""
    expect(page.locator(form)).to_have_attribute("data-state", "answered")


def type_into(page, box, text, form="#front"):
    """Type a value and wait for its answer."""
    page.locator(f"{form}-{box}").fill(text)
    answered(page, form)


def shown(page, form="#front"):
    """Return everything an answer consists of, as text."""
    return page.evaluate(
        """form => {
          const all = selector => [...document.querySelectorAll(`${form} ${selector}`)];
          return {
            values: all('[data-output] .value').map(each => each.textContent),
            remarks: all('.remark').map(each => each.textContent),
            working: all('[data-value]').map(each => each.textContent),
            drawn: all('.plot svg').map(each => each.outerHTML.replace(/<line class="cursor".*?<\\/line>/g, '')),
            captions: all('figcaption').map(each => each.textContent),
            numbers: all('.numbers tr').map(each => [...each.cells].map(cell => cell.textContent).join('|')),
          };
        }""",
        form,
    )


def answer(page, form="#front"):
    return page.locator(f"{form} .main .value").text_content()


def link(address, said, version=1):
    """Return a link as the page makes it."""
    text = json.dumps({"v": version, **said}) if isinstance(said, dict) else said
    packer = zlib.compressobj(wbits=-15)
    packed = packer.compress(text.encode()) + packer.flush()
    return f"{address}#share={base64.urlsafe_b64encode(packed).decode().rstrip('=')}"


def test_the_answer_is_there_before_any_script(browser, book):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(book + WHEEL)

    assert answer(page) == "48.60"
    assert page.locator("#front-spring_rate").input_value() == "60"
    assert page.locator("#front .plot svg path.curve").count() > 0
    assert page.locator("#front .steps math").count() > 0
    assert page.locator("#front .step").first.is_hidden()  # what cannot work is not shown
    context.close()


@pytest.mark.parametrize(
    ("path", "form"), [(WHEEL, "#front"), (WHEEL, "#ride"), (TABLES, "#change"), (TABLES, "#anti"), (TABLES, "#budget")]
)
def test_the_live_answer_is_the_one_of_the_book(page, book, path, form):
    opened(page, book + path)
    before = shown(page, form)

    page.locator(f"{form} .field input[type=text]").first.dispatch_event("input")
    answered(page, form)

    assert shown(page, form) == before


def test_an_answer_follows_what_is_typed(page, book):
    opened(page, book + WHEEL)

    type_into(page, "spring_rate", "120")

    assert answer(page) == "97.20"  # twice 48.60
    expect(page.locator("#front .steps [data-value=spring_rate]").first).to_have_text("120\u202f000")


def test_a_decimal_comma_is_a_decimal_point(page, book):
    opened(page, book + WHEEL)
    type_into(page, "spring_rate", "60.5")
    with_point = answer(page)

    type_into(page, "spring_rate", "60,5")

    assert answer(page) == with_point


def test_a_comma_that_may_mean_thousands_is_pointed_out(page, book):
    opened(page, book + WHEEL)

    type_into(page, "spring_rate", "1,250")

    expect(page.locator("#front .remark.caution")).to_contain_text("decimal comma")


def test_a_unit_may_be_typed_with_the_number(page, book):
    opened(page, book + WHEEL)

    type_into(page, "spring_rate", "342.609 lb/in")  # 60 N/mm

    assert answer(page) == "48.60"


def test_a_switch_of_units_converts_every_box_answer_limit_and_figure(page, book):
    opened(page, book + WHEEL)

    page.locator("#front-spring_rate ~ select.unit").select_option("lbf/in")
    answered(page)
    answered(page, "#ride")

    assert page.locator("#front-spring_rate").input_value() == "342.609"  # 60 N/mm / 0.1751268 N/mm
    assert page.locator("#front-tyre_rate").input_value() == "1199.13"
    assert answer(page) == "277.5"
    assert page.locator("#front .main select.unit").input_value() == "lbf/in"
    expect(page.locator("#front-spring_rate-hint")).to_contain_text("lbf/in")
    expect(page.locator("#front .chart .axis").last).to_contain_text("lbf/in")
    assert page.locator("#ride-wheel_rate ~ select.unit").input_value() == "lbf/in"
    assert page.locator("#ride-sprung_mass ~ select.unit").input_value() == "kg"

    page.reload()

    expect(page.locator("#front-spring_rate")).to_have_value("342.609")
    page.locator("#front .main select.unit").select_option("N/mm")
    expect(page.locator("#front-spring_rate")).to_have_value("60")  # the very number of the book, not its echo


def test_a_refusal_stands_beside_its_input_in_the_words_of_calc(page, book):
    opened(page, book + WHEEL)

    page.locator("#front-spring_rate").fill("-5")

    box = page.locator("#front-spring_rate")
    expect(box).to_have_attribute("aria-invalid", "true")
    refusal = page.locator("#front-spring_rate-refusal")
    expect(refusal).to_have_text("Spring rate (spring_rate) must be greater than 0 N/mm; got -5 N/mm.")
    assert "front-spring_rate-refusal" in box.get_attribute("aria-describedby").split()
    assert answer(page) == "–"

    type_into(page, "spring_rate", "60")

    assert box.get_attribute("aria-invalid") is None
    expect(refusal).to_be_hidden()
    assert answer(page) == "48.60"


@pytest.mark.parametrize("text", ["", "abc", "NaN", "1e999", "<img src=x onerror=alert(1)>", "60 kg", "6" * 200])
def test_what_is_no_number_is_refused_and_never_answered(page, book, text):
    opened(page, book + WHEEL)

    page.locator("#front-spring_rate").fill(text)

    expect(page.locator("#front-spring_rate-refusal")).to_be_visible()
    assert set(shown(page)["values"]) == {"–"}


def test_the_newest_question_wins(page, book):
    opened(page, book + WHEEL)

    page.evaluate(
        """() => {
          const box = document.querySelector('#front-spring_rate');
          for (let rate = 1; rate <= 120; rate += 1) {
            box.value = String(rate);
            box.dispatchEvent(new Event('input', {bubbles: true}));
          }
        }"""
    )

    expect(page.locator("#front .main .value")).to_have_text("97.20")
    page.wait_for_timeout(200)
    assert answer(page) == "97.20"


def test_inputs_survive_a_reload_until_they_are_put_back(page, book):
    opened(page, book + WHEEL)
    expect(page.locator("#front .reset")).to_be_hidden()
    type_into(page, "spring_rate", "120")

    page.reload()

    expect(page.locator("#front-spring_rate")).to_have_value("120")
    expect(page.locator("#front .main .value")).to_have_text("97.20", timeout=60_000)
    page.locator("#front .reset").click()
    expect(page.locator("#front .main .value")).to_have_text("48.60")
    page.reload()
    expect(page.locator("#front-spring_rate")).to_have_value("60")


def test_the_page_works_where_nothing_may_be_stored(page, book):
    page.add_init_script(
        "Object.defineProperty(window, 'localStorage', {get() { throw new DOMException('no', 'SecurityError'); }})"
    )
    opened(page, book + WHEEL)

    type_into(page, "spring_rate", "120")

    assert answer(page) == "97.20"


def test_a_link_carries_inputs_and_units(context, page, book):
    context.grant_permissions(["clipboard-read", "clipboard-write"])
    opened(page, book + WHEEL)
    type_into(page, "spring_rate", "120")
    page.locator("#front .main select.unit").select_option("lbf/in")
    answered(page)
    page.locator("#front .copy-link").click()
    expect(page.locator("#front .notice")).to_contain_text("copied")
    address = page.evaluate("() => navigator.clipboard.readText()")
    page.evaluate("() => localStorage.clear()")

    page.goto("about:blank")
    page.goto(address)

    expect(page.locator("#front-spring_rate")).to_have_value("685.218")
    expect(page.locator("#front .main .value")).to_have_text("555.0", timeout=60_000)
    expect(page.locator("#front .notice")).to_have_text("These inputs came with a link.")
    assert "#" not in page.url  # a reload shows what the reader then typed, not the link again


GOOD = {"name": "wheel_rate", "id": "front", "inputs": {"spring_rate": "90 N/mm"}, "units": {}}


def test_a_link_to_a_form_that_moved_finds_the_same_calculator(page, book):
    opened(page, link(book + WHEEL, {**GOOD, "id": "elsewhere"}))

    expect(page.locator("#front-spring_rate")).to_have_value("90")


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("not JSON", "damaged"),
        ("[1, 2]", "damaged"),
        ('{"v": 1, "name": 5}', "incomplete"),
        ({**GOOD, "name": "no_such_thing"}, "not on this page"),
        ({**GOOD, "inputs": {"spring_rate": "NaN"}}, "does not fit"),
        ({**GOOD, "inputs": {"spring_rate": "<script>window.bad = 1</script>"}}, "does not fit"),
        ({**GOOD, "inputs": {"__proto__": "1"}}, "does not fit"),
        ({**GOOD, "inputs": {"spring_rate": {"toString": "x"}}}, "no form of this book makes"),
        ({**GOOD, "inputs": {"spring_rate": "1" * 100}}, "no form of this book makes"),
        ({**GOOD, "inputs": {"spring_rate": [["1"]]}}, "does not fit"),
        ({**GOOD, "inputs": {f"x{n}": "1" for n in range(200)}}, "too many"),
        ({**GOOD, "inputs": {"spring_rate": "1", "more": " " * 300_000}}, "damaged"),
    ],
)
def test_a_hostile_link_ends_in_a_message_and_the_example_of_the_book(page, book, said, told):
    opened(page, link(book + WHEEL, said))

    expect(page.locator(".page-notice")).to_contain_text(told)
    expect(page.locator("#front-spring_rate")).to_have_value("60")
    assert answer(page) == "48.60"
    assert page.evaluate("() => window.bad") is None


@pytest.mark.parametrize(
    ("fragment", "told"),
    [("%%%", "damaged"), ("", "damaged"), ("AAAA" * 10, "damaged"), ("x" * 20_000, "too long")],
)
def test_a_garbled_link_ends_in_a_message(page, book, fragment, told):
    opened(page, f"{book}{WHEEL}#share={fragment}")

    expect(page.locator(".page-notice")).to_contain_text(told)
    assert answer(page) == "48.60"


def test_a_link_of_another_edition_says_so(page, book):
    opened(page, link(book + WHEEL, GOOD, version=2))

    expect(page.locator(".page-notice")).to_contain_text("another edition")


def test_units_of_a_link_that_no_form_offers_are_left_out(page, book):
    opened(page, link(book + WHEEL, {**GOOD, "units": {"N/mm": "furlong", "kg": "lb"}}))

    expect(page.locator("#front-spring_rate")).to_have_value("90")
    assert page.locator("#front-spring_rate ~ select.unit").input_value() == "N/mm"
    assert page.locator("#ride-sprung_mass ~ select.unit").input_value() == "lb"


def test_the_keyboard_alone_is_enough(page, book):
    opened(page, book + WHEEL)
    page.locator("#front-spring_rate").focus()

    page.keyboard.press("ArrowUp")
    expect(page.locator("#front-spring_rate")).to_have_value("61")
    page.keyboard.press("Shift+ArrowDown")
    expect(page.locator("#front-spring_rate")).to_have_value("51")
    page.keyboard.press("Tab")
    assert page.evaluate("() => document.activeElement.ariaLabel") == "Spring rate: more"
    page.keyboard.press("Enter")
    expect(page.locator("#front-spring_rate")).to_have_value("52")
    answered(page)
    page.locator("#front .working summary").focus()
    page.keyboard.press("Enter")
    expect(page.locator("#front .steps")).to_be_visible()


def test_thumbs_find_large_buttons_and_a_number_pad(phone, book):
    opened(phone, book + WHEEL)
    for button in phone.locator("#front button:visible").all():
        box = button.bounding_box()
        assert min(box["width"], box["height"]) >= 44
    assert phone.locator("#front-spring_rate").get_attribute("inputmode") == "decimal"

    phone.locator("#front-spring_rate ~ .step").tap()

    expect(phone.locator("#front-spring_rate")).to_have_value("61")


def test_the_answer_stays_in_sight_beside_the_last_input(phone, book):
    opened(phone, book + WHEEL)

    phone.locator("#front-motion_ratio_gradient").scroll_into_view_if_needed()

    expect(phone.locator("#front .main .value")).to_be_in_viewport()


def test_a_sign_can_be_changed_without_a_minus_key(phone, book):
    opened(phone, book + WHEEL)
    phone.locator("#front-motion_ratio_gradient").fill("2")

    phone.locator("#front-motion_ratio_gradient ~ .turn").tap()

    expect(phone.locator("#front-motion_ratio_gradient")).to_have_value("-2")


def test_a_chart_is_read_by_keys_and_by_pointer(page, book):
    opened(page, book + WHEEL)
    slider = page.get_by_label("Read the chart along Motion ratio").first
    said = page.locator("#front .reading output")

    slider.focus()
    page.keyboard.press("End")
    expect(said).to_contain_text("Motion ratio 1.1")
    assert slider.get_attribute("aria-valuetext") == said.text_content()

    box = page.locator("#front .plot svg").bounding_box()
    page.mouse.move(box["x"] + box["width"] * 0.3, box["y"] + box["height"] / 2)
    expect(said).not_to_contain_text("Motion ratio 1.1")
    expect(said).to_contain_text("Wheel rate (N/mm):")


def test_a_chart_keeps_its_reading_when_it_is_drawn_again(page, book):
    opened(page, book + WHEEL)
    page.get_by_label("Read the chart along Motion ratio").first.focus()
    page.keyboard.press("End")

    type_into(page, "spring_rate", "120")

    expect(page.locator("#front .reading output")).to_contain_text("Motion ratio 1.1")
    expect(page.locator("#front .plot .cursor")).to_have_count(1)


def test_a_table_is_filled_row_by_row_and_its_bad_cell_is_named(page, book):
    opened(page, book + TABLES)
    grid = page.locator("#change .field-table")
    rows = grid.locator("tbody tr")
    before = rows.count()

    grid.locator(".add-row").click()
    expect(rows).to_have_count(before + 1)
    answered(page, "#change")  # an empty last row is one that the reader has not filled in yet
    cells = rows.last.locator("input")
    cells.nth(0).fill("tool box")
    cells.nth(1).fill("heavy")

    expect(grid.locator(".refusal")).to_contain_text(f"[{before + 1}].")
    expect(cells.nth(1)).to_have_attribute("aria-invalid", "true")
    rows.last.locator(".remove-row").click()
    expect(rows).to_have_count(before)
    answered(page, "#change")
    expect(grid.locator(".refusal")).to_be_hidden()


def test_a_table_that_may_be_left_out_begins_with_a_row_to_fill_in(page, book):
    opened(page, book + TABLES)
    table = page.locator("#budget .field[data-input=rubber]")
    rows = table.locator("tbody tr")
    expect(rows).to_have_count(1)

    table.locator(".add-row").click()

    expect(rows).to_have_count(2)
    answered(page, "#budget")  # still nothing given, so nothing refused
    expect(page.locator("#budget .reset")).to_be_hidden()


def test_cells_of_a_spreadsheet_are_pasted_with_or_without_their_heads(page, book):
    opened(page, book + TABLES)
    grid = page.locator("#change .field-table")
    copied = "item\tmass\tx\nseat\t-12,5\t1500\nplate\t20\t300\n"

    grid.locator("tbody tr").first.locator("input").first.evaluate(
        """(cell, text) => {
          const data = new DataTransfer();
          data.setData('text/plain', text);
          cell.dispatchEvent(new ClipboardEvent('paste', {clipboardData: data, bubbles: true, cancelable: true}));
        }""",
        copied,
    )
    answered(page, "#change")

    values = [row.locator("input").nth(1).input_value() for row in grid.locator("tbody tr").all()]
    assert values[:2] == ["-12,5", "20"]
    page.reload()
    expect(grid.locator("tbody tr").first.locator("input").first).to_have_value("seat")


def test_a_python_that_does_not_start_leaves_the_book_and_offers_another_try(browser, book):
    context = browser.new_context(service_workers="block")
    page = context.new_page()
    context.route("**/assets/python/calc.zip", lambda route: route.abort())
    page.goto(book + WHEEL)
    state = page.locator("#front .state")
    expect(state).to_contain_text("did not start", timeout=60_000)
    assert answer(page) == "48.60"

    page.locator("#front-spring_rate").fill("120")
    expect(page.locator("#front")).to_have_attribute("data-state", "unanswered")

    context.unroute("**/assets/python/calc.zip")
    state.get_by_role("button").click()
    expect(page.locator("#front .main .value")).to_have_text("97.20", timeout=60_000)
    context.close()


def test_one_python_lives_on_from_page_to_page(page, book):
    page.goto(f"{book}/index.html")
    page.get_by_role("link", name="wheel rates").click()
    expect(page.locator("#front .state")).to_have_text("live", timeout=60_000)
    assert page.url.endswith("/springs/wheel.html#front")
    type_into(page, "spring_rate", "120")
    workers = len(page.workers)
    page.evaluate("() => { window.sameDocument = true; }")

    page.locator(".md-footer__link").first.click()
    expect(page.locator("#front")).to_have_count(0)
    page.go_back()

    expect(page.locator("#front-spring_rate")).to_have_value("120")
    type_into(page, "spring_rate", "60")
    assert answer(page) == "48.60"
    assert page.evaluate("() => window.sameDocument") is True
    assert len(page.workers) == workers


def test_a_cell_runs_stops_and_names_the_line_of_an_error(page, book):
    page.goto(book + WHEEL)
    cell = page.locator(".live-cell")
    assert cell.locator(".printed").text_content() == "6\n"

    cell.locator("textarea").fill("import calc\nprint(3 * 4)\n1 / 0")
    cell.locator(".run").click()
    expect(cell.locator(".printed")).to_contain_text("12", timeout=60_000)
    expect(cell.locator(".error")).to_contain_text("Line 3: ZeroDivisionError")

    cell.locator("textarea").fill("while True: pass")
    cell.locator(".run").click()
    cell.locator(".stop").click()
    expect(cell.locator(".error")).to_contain_text("stopped")

    cell.locator(".reset").click()
    expect(cell.locator("textarea")).to_have_value("print(2 * 3)")
    expect(cell.locator(".printed")).to_have_text("6")
