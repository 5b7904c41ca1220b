"""Chromium over the built site. Every test here fails on a policy violation, a page error or a request to elsewhere.

Set HANDBOOK_SITE to a built site to test that one instead of building it first.
"""

import os
import shutil
import threading
from pathlib import Path

import pytest

from site_build.build import build_site
from site_build.commands.test import chromium
from site_build.project import NODE_MODULES, Project
from site_build.server import SiteServer

PHONE = {"viewport": {"width": 390, "height": 844}, "device_scale_factor": 3, "is_mobile": True, "has_touch": True}


def pytest_collection_modifyitems(items):
    here = Path(__file__).parent
    for item in items:
        if here in item.path.parents:
            item.add_marker(pytest.mark.browser)


@pytest.fixture(scope="session")
def browser_type_launch_args(browser_type_launch_args):
    quiet = ["--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking"]
    sandbox = ["--no-sandbox"] if hasattr(os, "geteuid") and os.geteuid() == 0 else []  # Chromium's own rule for root
    found = chromium()
    return {**browser_type_launch_args, "args": quiet + sandbox, **({"executable_path": found} if found else {})}


@pytest.fixture(scope="session")
def built_site():
    """The folder of the site under test."""
    given = os.environ.get("HANDBOOK_SITE")
    if given:
        assert (Path(given) / "index.html").is_file(), f"HANDBOOK_SITE={given} is not a built site"
        return Path(given).resolve()
    project = Project()
    out = project.cache / "test-site"
    build_site(project, out, say=lambda line: None)
    return out


@pytest.fixture(scope="session")
def base_url(built_site):
    """The address of the site under test, without a slash at its end."""
    host = Host(built_site)
    yield host.url
    host.stop()


class Host:
    """A server on a thread of its own. A test may change its folder, read what it sent, and pull its plug."""

    def __init__(self, folder):
        self.folder = folder
        self.server = SiteServer(folder)
        self.url = self.server.url.rstrip("/")
        self.thread = threading.Thread(target=self.server.serve_forever, kwargs={"poll_interval": 0.01}, daemon=True)
        self.thread.start()

    def stop(self):
        """Be gone, as a host without power; a second call does nothing."""
        if self.thread.is_alive():
            self.server.shutdown()
            self.thread.join()
            self.server.server_close()


@pytest.fixture
def host(built_site, tmp_path):
    """A host of the test's own, with a copy of the site: see `Host`."""
    folder = tmp_path / "site"
    shutil.copytree(built_site, folder)
    host = Host(folder)
    yield host
    host.stop()


@pytest.fixture
def context(context):
    """The test's browser context, watched."""
    yield from watched(context)


@pytest.fixture
def phone(browser, base_url):
    """A page on a small touch screen, watched."""
    context = browser.new_context(**PHONE, base_url=base_url)
    for watched_context in watched(context):
        yield watched_context.new_page()
    context.close()


@pytest.fixture
def reader(browser_type, browser_type_launch_args, tmp_path):
    """A page of a browser with a profile on disk, as a reader has; a test's usual one keeps no large files."""
    context = browser_type.launch_persistent_context(tmp_path / "profile", **browser_type_launch_args)
    for watched_context in watched(context):
        yield watched_context.new_page()
    context.close()


def watched(context):
    """Yield the context, then fail on whatever no page of ours may do."""
    bad = []
    context.on(
        "console", lambda message: bad.append(message.text) if "Content Security Policy" in message.text else None
    )
    context.on("weberror", lambda error: bad.append(f"page error: {error.error}"))
    context.on(
        "request", lambda request: bad.append(f"foreign request: {request.url}") if is_foreign(request.url) else None
    )
    yield context
    assert bad == []


def is_foreign(address):
    return not address.startswith(("http://127.0.0.1:", "data:", "blob:", "about:"))


@pytest.fixture(scope="session")
def axe():
    """Return a function: page -> accessibility violations as readable lines."""
    source = (NODE_MODULES / "axe-core" / "axe.min.js").read_text("utf-8")

    def violations(page, **options):
        page.evaluate(source)
        found = page.evaluate("options => axe.run(document, options).then(result => result.violations)", options)
        return [f"{each['id']}: {node['html'][:200]}" for each in found for node in each["nodes"]]

    return violations
