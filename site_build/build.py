"""Build the site in named steps, in a folder of its own, and put it in place only when all of them worked."""

from __future__ import annotations

import logging
import os
import shutil
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from site_build import bootstrap, offline, policy
from site_build.project import BROWSER, NODE_MODULES, OWN_ASSETS, PYTHON_ASSETS, Project
from site_build.runtime import assets

# Small libraries of others that our browser modules import, by the name they get beside ours.
VENDORED = {"idb-keyval/dist/index.js": "idb-keyval.js"}
NOT_PUBLISHED = {"service_worker.js"}  # a template: the step `offline` makes sw.js of it
BUILT_MARK = ".built-by-site_build"

Step = Callable[[Project, Path], None]


class BuildProblem(Exception):
    """The site cannot be built; the text tells what to change."""


def build_pages(project: Project, out: Path) -> None:
    """Render `handbook/` with MkDocs; any warning is an error."""
    if not project.mkdocs_config.is_file():
        raise BuildProblem(
            f"{project.mkdocs_config.name} is missing beside site_build/build.py: there are no pages yet"
        )
    os.environ.setdefault("NO_MKDOCS_2_WARNING", "1")  # a banner of the theme about other versions
    from mkdocs.commands.build import build
    from mkdocs.config import load_config
    from mkdocs.exceptions import Abort, MkDocsException

    with warnings_shown("mkdocs"):
        try:
            config = load_config(str(project.mkdocs_config), site_dir=str(out), strict=True)
            config.plugins.on_startup(command="build", dirty=False)
            try:
                build(config)
            finally:
                config.plugins.on_shutdown()
        except (Abort, MkDocsException) as problem:
            raise BuildProblem(str(problem)) from None


@contextmanager
def warnings_shown(name: str) -> Iterator[None]:
    """Print what a library warns of while the block runs."""
    log, handler = logging.getLogger(name), logging.StreamHandler()
    handler.setLevel(logging.WARNING)
    handler.setFormatter(logging.Formatter("  %(levelname)s: %(message)s"))
    log.addHandler(handler)
    try:
        yield
    finally:
        log.removeHandler(handler)


def copy_browser_files(project: Project, out: Path) -> None:
    """Copy our modules, style sheets and fonts as they are: no bundler stands between source and reader."""
    target = out / OWN_ASSETS
    ignored = shutil.ignore_patterns(*NOT_PUBLISHED, "*.json", "*.d.ts")
    shutil.copytree(BROWSER, target, dirs_exist_ok=True, ignore=ignored)
    for source, name in VENDORED.items():
        shutil.copyfile(NODE_MODULES / source, target / name)


def add_runtime(project: Project, out: Path) -> None:
    """Add Python itself, its trimmed library and `calc`."""
    target = out / PYTHON_ASSETS
    target.mkdir(parents=True, exist_ok=True)
    try:
        files = assets.assemble(project.calc, project.cache)
    except assets.RuntimeProblem as problem:
        raise BuildProblem(str(problem)) from None
    for name, source in files.items():
        shutil.copyfile(source, target / name)


def apply_policy(project: Project, out: Path) -> None:
    """Make every page obey the content security policy, and refuse a page that does not."""
    offline.add_manifest(out)
    policy.apply(out, offline.HEAD_LINKS)
    found = policy.check(out)
    if found:
        raise BuildProblem("\n  ".join(["the browser would block or fetch from elsewhere:", *found]))


def make_offline(project: Project, out: Path) -> None:
    """List every file with its hash for the service worker; comes last, since nothing may change after it."""
    offline.add_service_worker(out)


STEPS: dict[str, Step] = {
    "pages": build_pages,
    "browser": copy_browser_files,
    "runtime": add_runtime,
    "policy": apply_policy,
    "offline": make_offline,
}


def build_site(project: Project, out: Path, *, say: Callable[[str], None] = print) -> dict[str, float]:
    """Build into `out`; return the seconds of each step.

    Whatever stood in `out` stays untouched when a step fails.
    """
    check_replaceable(out)
    project.cache.mkdir(parents=True, exist_ok=True)
    took = {}
    with tempfile.TemporaryDirectory(dir=project.cache, prefix="build-", ignore_cleanup_errors=True) as working:
        fresh = Path(working) / "site"
        fresh.mkdir()
        for name, step in STEPS.items():
            start = time.monotonic()
            step(project, fresh)
            took[name] = time.monotonic() - start
            say(f"{name:<8}{took[name]:6.2f} s")
        (fresh / BUILT_MARK).touch()
        with bootstrap.locked(project.cache / "build.lock"):  # another build may finish at the same moment
            put_in_place(fresh, out, Path(working) / "replaced")
    return took


def check_replaceable(out: Path) -> None:
    """Refuse to delete a folder that no build made."""
    if out.exists() and not (out.is_dir() and ((out / BUILT_MARK).exists() or not any(out.iterdir()))):
        raise BuildProblem(f"{out} holds something that is not a built site; name an empty or a new folder")


def put_in_place(fresh: Path, out: Path, attic: Path) -> None:
    """Swap the finished folder in; the old one is moved to the attic, not deleted file by file under a reader."""
    out.parent.mkdir(parents=True, exist_ok=True)
    if out.exists():
        shutil.move(out, attic)
    shutil.move(fresh, out)
