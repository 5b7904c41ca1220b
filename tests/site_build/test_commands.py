"""`test` and `check` say what they did and what is missing."""

import subprocess
import sys

import pytest

from site_build.commands import check
from site_build.commands import test as suite
from site_build.project import REPOSITORY


@pytest.fixture
def ran(monkeypatch):
    commands = []

    def run(command, **_):
        commands.append(command)
        return subprocess.CompletedProcess(command, 0)

    monkeypatch.setattr(suite.subprocess, "run", run)
    return commands


def test_without_chromium_the_browser_tests_are_left_out_with_a_word(ran, monkeypatch, capsys):
    monkeypatch.setattr(suite, "chromium", lambda: None)
    monkeypatch.delenv("CI", raising=False)

    assert suite.main(["tests"]) == 0

    assert "apt install chromium" in capsys.readouterr().err
    assert ran == [[sys.executable, "-m", "pytest", "-m", "not browser", "tests"]]


def test_in_ci_a_missing_chromium_is_a_failure(ran, monkeypatch):
    monkeypatch.setattr(suite, "chromium", lambda: None)
    monkeypatch.setenv("CI", "true")

    assert suite.main([]) == 1
    assert ran == []


@pytest.mark.parametrize(("ci", "code"), [("true", 1), ("", 0)])
def test_in_ci_a_skip_is_a_failure(tmp_path, monkeypatch, ci, code):
    (tmp_path / "test_it.py").write_text("import pytest\n\ndef test_it():\n    pytest.skip('no engine here')\n")
    (tmp_path / "pytest.ini").write_text("[pytest]\n")
    monkeypatch.setattr(suite, "chromium", lambda: "chromium")
    monkeypatch.setenv("CI", ci)

    assert suite.main(["-q", "-c", str(tmp_path / "pytest.ini"), str(tmp_path)]) == code


def test_a_failed_check_shows_what_it_said_and_a_good_one_is_one_line(capsys):
    assert check.passes("good", [sys.executable, "-c", "print('chatter')"])
    assert not check.passes("bad", [sys.executable, "-c", "print('the reason'); raise SystemExit(1)"])

    good, bad, reason = capsys.readouterr().out.splitlines()
    assert good.split()[:2] == ["good", "ok"]
    assert bad.split()[:2] == ["bad", "failed"]
    assert reason == "the reason"


def test_an_unknown_check_is_refused(capsys):
    with pytest.raises(SystemExit):
        check.main(["spelling"])
    assert "no check named spelling" in capsys.readouterr().err


def test_no_machine_path_and_no_registry_stands_in_our_files():
    """Whatever is committed works on any machine and speaks only of itself."""
    tracked = subprocess.run(["git", "ls-files", "-z"], cwd=REPOSITORY, capture_output=True, check=False)
    names = [REPOSITORY / name for name in tracked.stdout.decode().split("\0") if name]
    if not names:  # an unpacked copy without its history
        names = [path for path in REPOSITORY.rglob("*.*") if not MADE & set(path.relative_to(REPOSITORY).parts)]
    # built from pieces, so that this file does not find itself
    words = [
        "/" + "work/",
        "/" + "root/",
        "/" + "home/",
        "registry.npmjs" + ".org",
        "pypi" + ".org",
        "files.python" + "hosted",
    ]

    found = [(path.name, word) for path in names if path.is_file() for word in words if word in text_of(path)]

    assert found == []


MADE = {".venv", ".cache", "site", "node_modules", "__pycache__", ".mypy_cache", ".ruff_cache", ".hypothesis"}


def text_of(path):
    return path.read_bytes().decode("utf-8", "ignore")
