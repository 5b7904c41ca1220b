"""A build is whole or not there."""

import pytest

from site_build import policy
from site_build.build import STEPS, BuildProblem, build_site
from site_build.offline import hashes


def quiet(line):
    pass


def test_a_site_is_built_in_named_steps(small):
    lines = []

    took = build_site(small, small.site, say=lines.append)

    assert list(took) == list(STEPS) == [line.split()[0] for line in lines]
    for name in (
        "index.html",
        "part/second.html",
        "sw.js",
        "_headers",
        "manifest.webmanifest",
        "assets/handbook/worker.js",
    ):
        assert (small.site / name).is_file(), name
    assert policy.check(small.site) == []


def test_templates_and_types_are_not_published(small):
    build_site(small, small.site, say=quiet)

    published = {file.name for file in (small.site / "assets" / "handbook").iterdir()}
    assert published.isdisjoint({"service_worker.js", "tsconfig.json", "messages.d.ts"})


def test_equal_sources_make_an_equal_site(small):
    build_site(small, small.site, say=quiet)
    first = hashes(small.site)

    build_site(small, small.site, say=quiet)

    assert hashes(small.site) == first


@pytest.mark.parametrize(
    ("page", "told"),
    [
        ("[lost](nowhere.md)", "strict"),
        ('<p style="color:red">red</p>', 'part/second.html: line \\d+: style="color:red"'),
        ("![x](https://elsewhere.example/x.png)", "elsewhere.example"),
    ],
)
def test_a_failed_build_leaves_the_last_good_site(small, page, told):
    build_site(small, small.site, say=quiet)
    before = hashes(small.site)
    (small.root / "handbook" / "part" / "second.md").write_text(f"# Second\n\n{page}\n", encoding="utf-8")

    with pytest.raises(BuildProblem, match=told):
        build_site(small, small.site, say=quiet)

    assert hashes(small.site) == before
    assert not list(small.cache.glob("build-*"))


def test_calc_that_does_not_load_fails_the_build(small):
    (small.calc / "bad.py").write_text("import sqlite3\n", encoding="utf-8")

    with pytest.raises(BuildProblem, match="sqlite3"):
        build_site(small, small.site, say=quiet)
    assert not small.site.exists()


def test_a_folder_that_no_build_made_is_never_replaced(small, tmp_path):
    mine = tmp_path / "mine"
    mine.mkdir()
    (mine / "letter.txt").touch()

    with pytest.raises(BuildProblem, match="not a built site"):
        build_site(small, mine, say=quiet)

    assert (mine / "letter.txt").exists()


def test_without_pages_there_is_a_plain_word(small):
    small.mkdocs_config.unlink()

    with pytest.raises(BuildProblem, match=r"mkdocs\.yml is missing"):
        build_site(small, small.site, say=quiet)
