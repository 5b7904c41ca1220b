"""What is saved on the reader's device, and under which name."""

import hashlib
import json
import re

import pytest

from site_build import offline


@pytest.fixture
def site(tmp_path):
    for name in (
        "index.html",
        "assets/a.js",
        "assets/a.js.map",
        "_headers",
        "sitemap.xml",
        ".built-by-site_build",
        "x.map",
    ):
        file = tmp_path / name
        file.parent.mkdir(exist_ok=True)
        file.write_text(name, encoding="utf-8")
    (tmp_path / "assets/javascripts/lunr/min").mkdir(parents=True)
    (tmp_path / "assets/javascripts/lunr/min/lunr.fr.min.js").write_text("fr", encoding="utf-8")
    return tmp_path


def test_pages_and_scripts_are_listed_by_hash_and_the_rest_is_left_out(site):
    assert offline.hashes(site) == {
        name: hashlib.sha256(name.encode()).hexdigest()[:16] for name in ("assets/a.js", "index.html")
    }


def test_the_worker_does_not_list_itself_and_is_the_same_every_time(site):
    offline.add_service_worker(site)
    first = (site / "sw.js").read_text("utf-8")

    offline.add_service_worker(site)

    assert (site / "sw.js").read_text("utf-8") == first
    assert "sw.js" not in first.splitlines()[1]


def version(script):
    return re.match(r'const VERSION = "([0-9a-f]{16})"', script)[1]


def test_version_follows_the_files_and_the_workers_own_text():
    plain = version(offline.service_worker({"a": "1"}, "x"))

    assert version(offline.service_worker({"a": "1"}, "x")) == plain
    assert version(offline.service_worker({"a": "2"}, "x")) != plain
    assert version(offline.service_worker({"a": "1"}, "y")) != plain


def test_manifest_names_icons_that_exist(tmp_path):
    offline.add_manifest(tmp_path)

    manifest = json.loads((tmp_path / offline.MANIFEST_NAME).read_text("utf-8"))
    assert manifest["icons"]
    for icon in manifest["icons"]:
        assert (tmp_path / icon["src"]).is_file()
    for path in offline.HEAD_LINKS.values():
        assert (tmp_path / path).is_file()


@pytest.mark.parametrize("icon", [icon for icon in offline.MANIFEST["icons"] if icon["type"] == "image/png"])
def test_icons_have_the_size_they_promise(icon, tmp_path):
    offline.add_manifest(tmp_path)
    head = (tmp_path / icon["src"]).read_bytes()[:24]

    width, height = int.from_bytes(head[16:20], "big"), int.from_bytes(head[20:24], "big")

    assert head.startswith(b"\x89PNG")
    assert icon["sizes"] == f"{width}x{height}"
