"""Every page of the book, as readers with different eyes, screens and printers meet it."""

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import watched


@pytest.fixture(scope="module")
def pages(built_site):
    """The address of every page, from the top of the site."""
    return sorted(file.relative_to(built_site).as_posix() for file in built_site.rglob("*.html"))


@pytest.fixture
def still(browser, base_url, request):
    """A page without Python and without motion, watched: what is looked at here is the page as it was built."""
    options = {"service_workers": "block", "reduced_motion": "reduce", **getattr(request, "param", {})}
    context = browser.new_context(**options)
    context.route("**/assets/python/*", lambda route: route.abort())
    for watched_context in watched(context):
        yield watched_context.new_page()
    context.close()


def unfolded(page, address):
    """Open a page with everything that is folded away."""
    page.goto(address)
    page.evaluate("() => document.querySelectorAll('details').forEach(each => { each.open = true; })")
    return page


def test_no_page_shuts_a_reader_out(still, base_url, pages, axe):
    rules = {"type": "tag", "values": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]}
    found = {address: axe(unfolded(still, f"{base_url}/{address}"), runOnly=rules) for address in pages}

    assert {address: broken for address, broken in found.items() if broken} == {}


@pytest.mark.parametrize("still", [{"color_scheme": "dark"}], indirect=True, ids=["dark"])
def test_every_word_can_be_read_in_the_dark(still, base_url, pages, axe):
    only = {"type": "rule", "values": ["color-contrast"]}
    found = {address: axe(unfolded(still, f"{base_url}/{address}"), runOnly=only) for address in pages}

    assert {address: broken for address, broken in found.items() if broken} == {}


@pytest.mark.parametrize("still", [{"viewport": {"width": 320, "height": 640}}], indirect=True, ids=["320 px"])
def test_no_page_scrolls_sideways_on_a_small_phone(still, base_url, pages):
    wide = {}
    for address in pages:
        still.goto(f"{base_url}/{address}")
        width = still.evaluate("() => document.documentElement.scrollWidth")
        if width > 320:
            wide[address] = width

    assert wide == {}


def test_on_paper_everything_is_open_and_nothing_is_to_be_pressed(still, base_url):
    still.goto(f"{base_url}/index.html")
    still.emulate_media(media="print")
    form = still.locator(".calculator").first

    expect(form.locator(".steps").first).to_be_visible()
    expect(form.locator(".notes dd").first).to_be_visible()
    for gone in (".step", ".actions", ".state"):
        expect(form.locator(gone).first).to_be_hidden()
    for gone in (".md-header", ".md-footer", ".md-sidebar"):
        expect(still.locator(gone).first).to_be_hidden()
    ground = still.evaluate("() => getComputedStyle(document.body).backgroundColor")
    assert ground in ("rgb(255, 255, 255)", "rgba(0, 0, 0, 0)")


@pytest.mark.parametrize("still", [{"color_scheme": "dark"}], indirect=True, ids=["dark"])
def test_a_dark_page_is_printed_black_on_white(still, base_url):
    still.goto(f"{base_url}/index.html")
    still.emulate_media(media="print", color_scheme="dark")

    assert still.evaluate("() => getComputedStyle(document.querySelector('article')).color") == "rgb(0, 0, 0)"


def test_the_book_is_dark_where_the_device_is(browser, base_url):
    grounds = {}
    for scheme in ("light", "dark"):
        context = browser.new_context(color_scheme=scheme)
        page = context.new_page()
        page.goto(f"{base_url}/index.html")
        channels = page.evaluate("() => getComputedStyle(document.body).backgroundColor.match(/\\d+/g).map(Number)")
        grounds[scheme] = sum(channels[:3]) / 3
        context.close()

    assert grounds["light"] > 230
    assert grounds["dark"] < 40


def test_the_search_fetches_its_index_when_a_reader_turns_to_it(page, base_url):
    asked = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(f"{base_url}/index.html")
    page.wait_for_load_state("networkidle")
    assert not any(address.endswith("search_index.json") for address in asked)

    page.get_by_role("textbox", name="Search").click()
    page.get_by_role("textbox", name="Search").fill("wheel rate")

    expect(page.locator(".md-search-result__link").first).to_be_visible(timeout=20_000)
    assert any(address.endswith("search_index.json") for address in asked)
