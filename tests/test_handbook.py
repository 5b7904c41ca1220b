"""The handbook keeps its promises: every fence and value is computed, every calculator has a page, every link leads somewhere."""

from html.parser import HTMLParser
from urllib.parse import unquote, urldefrag, urljoin

import pytest

from calc import catalogue
from site_build import contents
from site_build.build import build_pages
from site_build.pages import prepare
from site_build.project import REPOSITORY, Project

HANDBOOK = REPOSITORY / "handbook"
PAGES = sorted(file.relative_to(HANDBOOK).as_posix() for file in HANDBOOK.rglob("*.md"))


class Page(HTMLParser):
    """What a built page links to, and what in it can be linked to."""

    def __init__(self, html):
        super().__init__()
        self.links, self.anchors = [], []
        self.feed(html)

    def handle_starttag(self, name, attributes):
        given = dict(attributes)
        if name == "a" and given.get("href"):
            self.links.append(given["href"])
        if given.get("id"):
            self.anchors.append(given["id"])


@pytest.fixture(scope="module")
def site(tmp_path_factory):
    """Every page as it is built, by its address."""
    out = tmp_path_factory.mktemp("site")
    build_pages(Project(), out)
    return {file.relative_to(out).as_posix(): Page(file.read_text("utf-8")) for file in out.rglob("*.html")}


@pytest.mark.parametrize("source", PAGES)
def test_every_fence_value_and_promise_of_a_page_holds(source):
    prepare((HANDBOOK / source).read_text("utf-8"), source)  # raises with file and line


@pytest.mark.parametrize("name", catalogue.names())
def test_every_calculator_has_a_page(name):
    assert name in contents.homes(HANDBOOK), f"{name} is shown on no page of the handbook"


def test_every_link_leads_to_a_page_and_every_anchor_is_there(site):
    lost = []
    for address, page in site.items():
        for link in page.links:
            target, anchor = urldefrag(urljoin(f"http://book/{address}", link))
            if not target.startswith("http://book/") or address == "404.html":
                continue
            path = unquote(target.removeprefix("http://book/")) or "index.html"
            if path not in site or (anchor and unquote(anchor) not in site[path].anchors):
                lost.append(f"{address}: {link}")

    assert lost == []


def test_no_page_gives_one_name_to_two_things(site):
    twice = {address: {name for name in page.anchors if page.anchors.count(name) > 1} for address, page in site.items()}

    assert {address: names for address, names in twice.items() if names} == {}
