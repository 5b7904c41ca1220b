"""What travels to the browser: small, compiled, complete, and the same bytes every time."""

import zipfile

import pytest

from site_build.project import ENGINE, Project
from site_build.runtime import assets, node

pytestmark = pytest.mark.runtime
CACHE = Project().cache


@pytest.fixture
def package(tmp_path):
    """A small `calc` that can be filled with sources."""
    folder = tmp_path / "calc"
    folder.mkdir()
    (folder / "__init__.py").write_text('"""Speaks."""\n')
    return folder


def pack(package, tmp_path):
    return assets.packages(package, assets.trimmed_library(CACHE), tmp_path / "cache")


def test_library_is_compiled_and_smaller_than_the_stock_one():
    library = assets.trimmed_library(CACHE)

    with zipfile.ZipFile(library) as packed:
        assert all(name.endswith(".pyc") for name in packed.namelist())
    assert library.stat().st_size < (ENGINE / assets.LIBRARY).stat().st_size


def test_every_kept_module_loads_from_the_trimmed_library(tmp_path, package):
    (package / "all.py").write_text("".join(f"import {name}\n" for name in assets.kept_modules()))

    assert pack(package, tmp_path).is_file()


def test_docstrings_of_calc_survive_and_tests_stay_behind(tmp_path, package):
    (package / "test_it.py").write_text("import pytest\n")

    with zipfile.ZipFile(pack(package, tmp_path)) as packed:
        assert packed.namelist() == ["calc/__init__.pyc"]
        assert b"Speaks." in packed.read("calc/__init__.pyc")


def test_equal_sources_make_equal_bytes(tmp_path, package):
    first = pack(package, tmp_path / "one").read_bytes()

    assert pack(package, tmp_path / "two").read_bytes() == first


def test_a_late_import_that_the_library_lacks_is_named(tmp_path, package):
    (package / "late.py").write_text("def f():\n    import sqlite3\n    return sqlite3\n")

    with pytest.raises(assets.RuntimeProblem, match=r"calc/late\.py imports sqlite3, .*library\.txt"):
        pack(package, tmp_path)


def test_a_module_that_does_not_load_is_named(tmp_path, package):
    (package / "bad.py").write_text("1 / 0\n")

    with pytest.raises(assets.RuntimeProblem, match=r"calc\.bad does not load .* ZeroDivisionError"):
        pack(package, tmp_path)
    assert not list((tmp_path / "cache" / "runtime").glob("calc-*")), "a failure must not be remembered as a result"


def test_a_failure_inside_is_told_as_its_traceback(tmp_path, package):
    (package / "broken.py").write_text("def f(:\n")

    with pytest.raises(node.InsideError, match="SyntaxError"):
        pack(package, tmp_path)


def test_the_cache_is_used_until_a_source_changes(tmp_path, package):
    made = []

    def make(folder):
        made.append(folder)
        (folder / "x").touch()

    for key in ("kind-1", "kind-1", "kind-2"):
        assert (assets.cached(tmp_path, key, make) / "x").is_file()
    assert len(made) == 2


def test_the_oldest_of_many_is_forgotten(tmp_path):
    for number in range(assets.KEEP_CACHED + 3):
        assets.cached(tmp_path, f"kind-{number}", lambda folder: None)

    assert len(list((tmp_path / "runtime").glob("kind-*"))) == assets.KEEP_CACHED


def test_fingerprints_tell_lists_apart_that_join_alike():
    assert assets.fingerprint([b"ab", b"c"]) != assets.fingerprint([b"a", b"bc"])
