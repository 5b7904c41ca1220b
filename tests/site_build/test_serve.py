"""`serve` notices edits, once each, and ends when asked."""

import os
import re
import signal
import subprocess
import sys
import threading
import urllib.request

import pytest

from site_build.commands import serve
from site_build.project import REPOSITORY


def test_a_new_a_changed_and_a_deleted_file_are_noticed(tmp_path):
    (tmp_path / "a.md").write_text("one")
    (tmp_path / "b.md").write_text("one")
    before = serve.snapshot([tmp_path])

    (tmp_path / "a.md").write_text("three")
    (tmp_path / "b.md").unlink()
    (tmp_path / "c.md").touch()

    assert serve.differences(before, serve.snapshot([tmp_path])) == {"a.md", "b.md", "c.md"}


def test_what_tools_leave_behind_is_no_edit(tmp_path):
    before = serve.snapshot([tmp_path])
    (tmp_path / "__pycache__").mkdir()
    (tmp_path / "__pycache__" / "x.pyc").touch()

    assert serve.snapshot([tmp_path]) == before


def test_several_edits_at_once_make_one_build(tmp_path, monkeypatch):
    monkeypatch.setattr(serve, "LOOK_EVERY", 0.05)
    stop, built = threading.Event(), threading.Semaphore(0)
    before = serve.snapshot([tmp_path])
    for name in "abc":
        (tmp_path / f"{name}.md").touch()
    watcher = threading.Thread(target=serve.watch, args=([tmp_path], before, built.release, stop))
    watcher.start()

    assert built.acquire(timeout=20)
    assert not built.acquire(timeout=0.4)  # no second build follows
    (tmp_path / "d.md").touch()
    assert built.acquire(timeout=20)

    stop.set()
    watcher.join(timeout=20)
    assert not watcher.is_alive()


def test_a_failed_build_keeps_the_last_good_site(monkeypatch, capsys):
    monkeypatch.setattr(serve.subprocess, "run", lambda *_, **__: subprocess.CompletedProcess([], 1))

    assert serve.rebuild() is False
    assert "still serving the last good site" in capsys.readouterr().err


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no polite way to end another process")
@pytest.mark.parametrize("ending", [signal.SIGINT, signal.SIGTERM])
def test_the_command_serves_and_ends_when_asked(small, ending):
    script = (
        "import site_build.commands.serve as s, site_build.build as b, site_build.project as p, pathlib\n"
        f"project = p.Project(pathlib.Path({str(small.root)!r}))\n"
        "s.Project = lambda: project\n"
        "s.rebuild = lambda: b.build_site(project, project.site, say=lambda line: None) is not None\n"
        "raise SystemExit(s.main(['--port', '0']))\n"
    )
    process = subprocess.Popen(
        [sys.executable, "-c", script],
        stdout=subprocess.PIPE,
        text=True,
        cwd=REPOSITORY,
        env={**os.environ, "PYTHONPATH": str(REPOSITORY)},
    )
    try:
        url = re.search(r"http://\S+", process.stdout.readline())[0]
        with urllib.request.urlopen(url) as response:
            assert b"Home" in response.read()
        process.send_signal(ending)
        rest, _ = process.communicate(timeout=20)
    finally:
        process.kill()

    assert process.returncode == 0
    assert rest == "ended\n"
