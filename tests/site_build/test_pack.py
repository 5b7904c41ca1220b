"""The zip starts anywhere with its own start.py."""

import re
import signal
import subprocess
import sys
import urllib.request
import zipfile

import pytest

from site_build.build import build_site
from site_build.commands import pack

ENDING = pytest.mark.skipif(sys.platform == "win32", reason="Windows has no polite way to end another process")


@pytest.fixture
def zipped(small, tmp_path):
    build_site(small, small.site, say=lambda line: None)
    target = tmp_path / "out" / "handbook.zip"
    pack.pack(small.site, target)
    return target


def test_zip_holds_the_site_and_is_the_same_every_time(zipped, small, tmp_path):
    again = tmp_path / "again.zip"
    pack.pack(small.site, again)

    with zipfile.ZipFile(zipped) as packed:
        names = packed.namelist()
    assert {"chassis-handbook/start.py", "chassis-handbook/README.txt", "chassis-handbook/site/sw.js"} <= set(names)
    assert not [name for name in names if name.endswith(".map")]
    assert again.read_bytes() == zipped.read_bytes()


def launch(folder, *words):
    return subprocess.Popen(
        # -I -S: no installed package and no path of ours may be needed
        [sys.executable, "-I", "-S", str(folder / "start.py"), "--no-browser", *words],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        cwd=folder.parent,
    )


@ENDING
@pytest.mark.parametrize("ending", [signal.SIGINT, signal.SIGTERM])
def test_unpacked_it_serves_and_ends_when_asked(zipped, tmp_path, ending):
    with zipfile.ZipFile(zipped) as packed:
        packed.extractall(tmp_path)
    process = launch(tmp_path / "chassis-handbook", "--port", "0")
    try:
        url = re.search(r"http://127\.0\.0\.1:\d+/", process.stdout.readline())[0]
        with urllib.request.urlopen(url + "part/second.html") as response:
            assert b"Some words." in response.read()
            assert "wasm-unsafe-eval" in response.headers["Content-Security-Policy"]
        process.send_signal(ending)
        rest, _ = process.communicate(timeout=20)
    finally:
        process.kill()

    assert process.returncode == 0
    assert rest == "Ended.\n"


def test_without_its_site_it_says_to_unpack_everything(tmp_path):
    (tmp_path / "start.py").write_bytes(pack.LAUNCHER.read_bytes())

    process = launch(tmp_path)
    printed, _ = process.communicate(timeout=20)

    assert process.returncode == 1
    assert "unpack the whole zip" in printed
