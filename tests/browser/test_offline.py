"""The site works without a network after one visit, and its updates are whole or not at all."""

import json
from collections import Counter

import pytest

from site_build import offline

LIST = json.dumps({"verb": "list"})

WATCH = """async () => {
  const { offline } = await import('/assets/handbook/offline.js');
  offline.onState((state) => { document.documentElement.dataset.watchedState = state.state; });
}"""
IS = "state => document.documentElement.dataset.watchedState === state"
LOOK_FOR_UPDATE = "() => navigator.serviceWorker.ready.then(registration => registration.update()).catch(() => {})"
TEXT_OF = "path => fetch(path).then(response => response.text())"
ASK = "question => import('/assets/handbook/python.js').then(({ python }) => python.ask(question))"


def visit(page, host, path="/index.html"):
    """Open a page and wait until the site is saved."""
    page.goto(host.url + path)
    page.evaluate(WATCH)
    page.wait_for_function(IS, arg="ready", timeout=60_000)


def change(host, path, text):
    """Deploy a new version in which one page says something else."""
    file = host.folder / path
    file.write_text(file.read_text("utf-8").replace("</main>", f"{text}</main>"), encoding="utf-8")
    offline.add_service_worker(host.folder)


def other_page(host):
    """Return the path of some page that is not the first one."""
    pages = (file.relative_to(host.folder).as_posix() for file in sorted(host.folder.rglob("*.html")))
    return next(path for path in pages if path not in ("index.html", "404.html"))


def test_pages_search_and_answers_after_the_host_is_gone(page, host):
    visit(page, host)
    host.stop()

    page.goto(f"{host.url}/{other_page(host)}")
    heading = page.locator("h1").first.inner_text().strip("§¶ \n")
    assert json.loads(page.evaluate(ASK, LIST))["answer"]
    page.locator("input.md-search__input").click()
    page.locator("input.md-search__input").press_sequentially(heading)
    page.locator(".md-search-result__item", has_text=heading).first.wait_for()


def test_a_first_visit_downloads_nothing_twice(reader, host):
    visit(reader, host)

    sent = Counter(path.partition("?")[0] for status, path, _ in host.server.sent if status == 200)
    assert {path: count for path, count in sent.items() if count > 1 and path != "/sw.js"} == {}
    moved = sum(size for _, _, size in host.server.sent)
    stored = sum(file.stat().st_size for file in host.folder.rglob("*") if file.suffix != ".map")
    assert moved < 1.05 * stored


def test_saved_pages_keep_the_policy(page, host):
    visit(page, host)
    host.stop()

    response = page.goto(f"{host.url}/{other_page(host)}")

    assert response.from_service_worker
    assert "wasm-unsafe-eval" in response.headers["content-security-policy"]


def test_an_update_waits_until_the_reader_asks(page, host):
    path = other_page(host)
    visit(page, host)
    before = len(host.server.sent)
    change(host, path, "brand new words")

    page.evaluate(LOOK_FOR_UPDATE)
    page.wait_for_function(IS, arg="update")
    assert "brand new words" not in page.evaluate(TEXT_OF, f"/{path}")
    assert sum(size for _, _, size in host.server.sent[before:]) < 500_000

    with page.expect_navigation():
        page.evaluate("() => import('/assets/handbook/offline.js').then(({ offline }) => offline.update())")
    host.stop()
    assert "brand new words" in page.evaluate(TEXT_OF, f"/{path}")


def test_a_half_deployed_update_is_refused(page, host):
    path = other_page(host)
    visit(page, host)
    old = (host.folder / path).read_bytes()
    change(host, path, "brand new words")
    (host.folder / path).write_bytes(old)

    page.evaluate(LOOK_FOR_UPDATE)
    page.wait_for_function("() => navigator.serviceWorker.ready.then(r => !r.installing && !r.waiting)")
    assert page.evaluate("() => document.documentElement.dataset.watchedState") == "ready"
    host.stop()
    page.goto(f"{host.url}/{path}")
    assert page.locator("h1").count()


@pytest.mark.parametrize("name", [offline.MANIFEST_NAME, "assets/icons/icon-512.png"])
def test_what_makes_it_an_app_is_saved_too(page, host, name):
    visit(page, host)
    host.stop()

    assert page.evaluate("path => fetch(path).then(response => response.status)", f"/{name}") == 200
