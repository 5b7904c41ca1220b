"""How many bytes a reader needs: for the first page before Python, and for everything offline."""

import gzip
import tempfile
from urllib.parse import urlsplit

from site_build import offline
from site_build.project import PYTHON_ASSETS

from . import page as pages
from .starts import browser, serving

ALREADY_PACKED = (".png", ".woff2", ".zip", ".ico", ".gz")


def on_the_wire(file):
    """Return the size of a file as a compressing host sends it."""
    content = file.read_bytes()
    return len(content) if file.suffix in ALREADY_PACKED else len(gzip.compress(content, 9))


def first_page(playwright, folder, path):
    """Return lines of the report: what the first page fetches apart from Python."""
    with tempfile.TemporaryDirectory() as profile, serving(folder) as server, browser(playwright, profile) as context:
        asked = []
        page = context.new_page()
        page.on("request", lambda request: asked.append(urlsplit(request.url).path.lstrip("/")))
        page.goto(server.url + path, wait_until="networkidle")
    files = {folder / name for name in asked if not name.startswith(PYTHON_ASSETS) and name != offline.SERVICE_WORKER}
    existing = [file for file in files if file.is_file()]
    total = sum(map(on_the_wire, existing))
    yield f"{'first page before Python, gzipped':<34}{total / 1000:7.0f} kB in {len(existing)} files ({path})"


def offline_set(playwright, folder, path):
    """Return lines of the report: everything that is saved on the device, and what that takes there."""
    files = [folder / name for name in offline.hashes(folder)]
    plain = sum(file.stat().st_size for file in files)
    sent = sum(map(on_the_wire, files))
    with tempfile.TemporaryDirectory() as profile, serving(folder) as server, browser(playwright, profile) as context:
        page = context.new_page()
        page.goto(server.url + path)
        page.evaluate(pages.SAVED, server.url)
        used = page.evaluate("() => navigator.storage.estimate().then(({ usage }) => usage)")
    yield (
        f"{'whole offline set':<34}{used / 1e6:7.2f} MB on the device, {sent / 1e6:.2f} MB sent gzipped, "
        f"{plain / 1e6:.2f} MB unpacked, {len(files)} files"
    )
