"""What a reader is promised of the points of a drawing: taken with mouse, finger or keys, and everything follows."""

import json
import re

import pytest
from playwright.sync_api import expect

from site_build.build import build_site
from tests.browser.conftest import Host
from tests.small_book import project

PAGE = "/geometry/points.html"
BALL = "lower_ball_joint"


@pytest.fixture(scope="module")
def book(tmp_path_factory):
    """The address of a book with a linkage to be pulled at."""
    root = tmp_path_factory.mktemp("book")
    pages = root / "pages"
    (pages / "geometry").mkdir(parents=True)
    (pages / "index.md").write_text("# Start\n")
    (pages / "geometry" / "points.md").write_text(
        "# Points\n\n```calc wheel_position #wheel\n```\n\n```calc moved_point #move\n```\n"
    )
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("HANDBOOK_COMPLETE", "false")
        build_site(project(root, pages), root / "site", say=lambda line: None)
    host = Host(root / "site")
    yield host.url
    host.stop()


def opened(page, book):
    """Open the page, wait until Python answers, and bring the front view into sight."""
    page.goto(book + PAGE)
    expect(page.locator(".calculator .state").first).to_have_text("live", timeout=60_000)
    front(page).scroll_into_view_if_needed()
    return page


def front(page, form="#wheel", view=0):
    return page.locator(f"{form} figure.drawn").nth(view)


def handle(page, name=BALL, form="#wheel", view=0):
    return front(page, form, view).locator(f'[data-handle="{name}"]')


def middle(page, name=BALL, **which):
    """Return where a point is on the screen; its drawing may be replaced at any moment, its figure not."""
    return front(page, **which).evaluate(
        """(figure, name) => {
          const box = figure.querySelector(`[data-handle="${name}"] .mark`).getBoundingClientRect();
          return [(box.left + box.right) / 2, (box.top + box.bottom) / 2];
        }""",
        name,
    )


def cells(page, name=BALL, form="#wheel"):
    """Return x, y and z of a row as they are written."""
    rows = page.locator(f"{form} .field-table tbody tr").evaluate_all(
        "rows => rows.map(row => [...row.querySelectorAll('input')].map(cell => cell.value))"
    )
    return next([float(text) for text in row[1:]] for row in rows if row[0] == name)


def answered(page, form="#wheel"):
    expect(page.locator(form)).to_have_attribute("data-state", "answered")


def main(page, form="#wheel"):
    return page.locator(f"{form} .main .value").text_content()


def scale(page, **which):
    """Return the pixels of a millimetre."""
    return handle(page, **which).evaluate(
        "each => Math.abs(each.ownerSVGElement.dataset.map.split(',')[0]) * each.ownerSVGElement.getScreenCTM().a / 1000"
    )


def drag(page, across, down, **which):
    """Pull a point with the mouse, in pixels, and leave the button down."""
    x, y = middle(page, **which)
    page.mouse.move(x, y)
    page.mouse.down()
    for step in range(1, 6):
        page.mouse.move(x + across * step / 5, y + down * step / 5)


def test_a_point_follows_the_mouse_and_everything_follows_the_point(page, book):
    opened(page, book)
    before, camber, per_mm = cells(page), main(page), scale(page)
    drawn = [front(page, view=view).locator(".plot").inner_html() for view in (0, 1, 2)]
    start = middle(page)

    drag(page, -20, -10)
    expect(page.locator("#wheel .main .value")).not_to_have_text(camber)
    expect(front(page).locator(".handle.held")).to_have_count(1)
    reached = middle(page)
    page.mouse.up()
    answered(page)

    after = cells(page)
    assert after[0] == before[0]
    assert after[1] - before[1] == pytest.approx(-20 / per_mm, abs=0.1)
    assert after[2] - before[2] == pytest.approx(10 / per_mm, abs=0.1)
    assert reached == pytest.approx((start[0] - 20, start[1] - 10), abs=2.5)  # the view stands still under the pointer
    for view in (0, 1, 2):
        assert front(page, view=view).locator(".plot").inner_html() != drawn[view]
    expect(front(page).locator(".said")).to_contain_text(f"lower ball joint: y {after[1]:g} mm, z {after[2]:g} mm")


def test_in_the_side_view_forward_is_to_the_left(page, book):
    opened(page, book)
    front(page, view=1).scroll_into_view_if_needed()
    before, per_mm = cells(page, "upper_ball_joint"), scale(page, view=1)

    drag(page, -15, 0, name="upper_ball_joint", view=1)
    page.mouse.up()
    answered(page)

    after = cells(page, "upper_ball_joint")
    assert after[0] - before[0] == pytest.approx(15 / per_mm, abs=0.1)
    assert after[1:] == before[1:]


def test_a_press_without_a_pull_changes_nothing(page, book):
    opened(page, book)

    drag(page, 0, 0)
    page.mouse.up()

    expect(page.locator("#wheel")).not_to_have_attribute("data-changed", "")


def test_a_move_is_put_back_one_at_a_time_and_escape_ends_it(page, book):
    opened(page, book)
    before, camber = cells(page), main(page)
    back = front(page).get_by_role("button", name="Put the point back")
    expect(back).to_be_hidden()
    for way in (-20, 12):
        drag(page, way, 0)
        page.mouse.up()
        answered(page)
    twice = cells(page)

    drag(page, 0, 30)
    page.keyboard.press("Escape")
    page.mouse.up()
    answered(page)
    assert cells(page) == twice

    back.click()
    assert cells(page)[1] < twice[1]
    back.click()
    assert cells(page) == before
    expect(page.locator("#wheel .main .value")).to_have_text(camber)
    expect(back).to_be_hidden()


def test_arrow_keys_move_a_point_by_millimetres_and_keep_the_focus(page, book):
    opened(page, book)
    before = cells(page)
    point = front(page).get_by_role("button", name=re.compile("^lower ball joint: y 640 mm, z 150 mm"))
    point.focus()

    page.keyboard.press("ArrowUp")
    answered(page)
    page.keyboard.press("Shift+ArrowRight")
    answered(page)

    assert cells(page) == [before[0], before[1] + 10, before[2] + 1]
    expect(handle(page)).to_be_focused()
    expect(handle(page)).to_have_accessible_name("lower ball joint: y 650 mm, z 151 mm")
    front(page).get_by_role("button", name="Put the point back").click()
    answered(page)
    assert cells(page) == before  # a row of presses is one move


def test_a_point_is_moved_in_the_unit_that_is_shown(page, book):
    opened(page, book)
    page.locator("#wheel th[data-column=y] select").select_option("in")
    answered(page)
    front(page).scroll_into_view_if_needed()

    handle(page).focus()
    page.keyboard.press("ArrowLeft")
    answered(page)

    assert cells(page)[1] == pytest.approx(639 / 25.4, abs=0.001)
    expect(handle(page)).to_have_accessible_name(re.compile(r"y 25\.157 in, z 5\.906 in"))


def test_a_place_that_cannot_be_keeps_the_last_drawing_and_can_be_left(page, book):
    opened(page, book)
    before, camber = cells(page, "upper_ball_joint"), main(page)

    drag(page, 0, 200 * scale(page), name="upper_ball_joint")  # between the arms' inner ends the wheel cannot rise
    expect(page.locator("#wheel")).to_have_attribute("data-state", "refused")
    expect(front(page).locator(".said.refused")).not_to_be_empty()
    good = front(page).locator(".plot").inner_html()
    page.mouse.up()
    expect(page.locator("#wheel .field:has(#wheel-travel) .refusal")).to_be_visible()

    assert re.sub(' class="handle held"', ' class="handle"', good) == front(page).locator(".plot").inner_html()
    assert cells(page, "upper_ball_joint") != before
    front(page).get_by_role("button", name="Put the point back").click()
    answered(page)
    assert cells(page, "upper_ball_joint") == before
    assert main(page) == camber
    expect(front(page).locator(".said.refused")).to_have_count(0)


def test_a_point_follows_a_finger_and_the_page_does_not_scroll(phone, book):
    opened(phone, book)
    before, per_mm = cells(phone), scale(phone)
    top = "figure => figure.getBoundingClientRect().top"
    stood = front(phone).evaluate(top)
    x, y = middle(phone)
    touch = phone.context.new_cdp_session(phone)

    def send(kind, *points):
        touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": [{"x": x, "y": y} for x, y in points]})

    send("touchStart", (x + 5, y + 6))  # a finger is not that exact
    for step in range(1, 16):
        send("touchMove", (x + 5 - step, y + 6 - step))
        phone.wait_for_timeout(30)
    assert front(phone).evaluate(top) == pytest.approx(stood, abs=2)
    send("touchEnd")
    answered(phone)

    after = cells(phone)
    assert after[1] - before[1] == pytest.approx(-15 / per_mm, abs=0.2)
    assert after[2] - before[2] == pytest.approx(15 / per_mm, abs=0.2)


def test_while_a_point_is_on_its_way_only_drawings_are_asked_for(page, book):
    page.add_init_script(
        """const send = Worker.prototype.postMessage;
        window.asked = [];
        Worker.prototype.postMessage = function (message, ...rest) {
          window.asked.push(message.question);
          return send.call(this, message, ...rest);
        };"""
    )
    opened(page, book)
    front(page, "#move").scroll_into_view_if_needed()
    charts = page.locator("#move svg.chart")
    before = charts.first.evaluate("each => each.outerHTML")

    drag(page, -12, 0, form="#move")
    page.mouse.up()
    answered(page, "#move")

    asked = [json.loads(question) for question in page.evaluate("() => window.asked")]
    assert {"drawings"} <= {question.get("figures") for question in asked}
    assert "figures" not in asked[-1]
    expect(charts).to_have_count(2)
    assert charts.first.evaluate("each => each.outerHTML") != before


def test_of_before_and_after_only_the_given_points_can_be_moved(page, book):
    opened(page, book)
    names = (
        handle(page, form="#move", name="rod_inner")
        .locator("xpath=..")
        .locator(".handle")
        .evaluate_all("all => all.map(each => each.dataset.handle)")
    )

    assert sorted(names) == sorted({row[0] for row in rows(page, "#move")})


def rows(page, form):
    return page.locator(f"{form} .field-table tbody tr").evaluate_all(
        "rows => rows.map(row => [...row.querySelectorAll('input')].map(cell => cell.value))"
    )


def test_points_are_named_to_those_who_cannot_see_them(page, book, axe):
    opened(page, book)

    expect(front(page).locator("svg")).to_have_attribute("role", "group")
    expect(handle(page)).to_have_attribute("aria-roledescription", "draggable point")
    assert axe(page) == []


def test_without_a_script_points_are_a_picture(browser, book):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(book + PAGE)

    expect(front(page).locator("svg")).to_have_attribute("role", "img")
    expect(page.locator(".plot [tabindex], .plot [role=button]")).to_have_count(0)
    context.close()
