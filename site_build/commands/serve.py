"""`serve`: build, serve, and build again whenever a source changes."""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import threading
from collections.abc import Callable, Iterable
from pathlib import Path

from site_build import server
from site_build.project import REPOSITORY, Project

LOOK_EVERY = 0.7  # seconds
IGNORED = {"node_modules", "__pycache__", ".mypy_cache", ".ruff_cache"}

Snapshot = dict[str, tuple[int, int]]


def main(arguments: list[str]) -> int:
    """Serve the site until stopped."""
    parser = argparse.ArgumentParser(prog="python3 -m site_build serve", description="Build and serve the site.")
    parser.add_argument("--port", type=int, default=server.USUAL_PORT, help="default: %(default)s; 0: any free one")
    told = parser.parse_args(arguments)
    project = Project()
    before = snapshot(project.watched)
    if not rebuild() and not (project.site / "index.html").exists():
        return 1
    try:
        site = server.start(project.site, told.port, fall_back=False)
    except OSError as problem:
        print(f"cannot serve on port {told.port}: {problem.strerror}; try --port 0", file=sys.stderr)
        return 1
    stop = threading.Event()
    watcher = threading.Thread(target=watch, args=(project.watched, before, rebuild, stop), daemon=True)
    watcher.start()
    server.serve_until_stopped(site, f"serving {site.url}  (Ctrl-C ends it)")
    stop.set()
    watcher.join(timeout=5)
    print("ended")
    return 0


def rebuild() -> bool:
    """Build in a process of its own, so that edited Python is what runs; on failure the last good site stays."""
    told = subprocess.run([sys.executable, "-m", "site_build", "build"], cwd=REPOSITORY, check=False)
    if told.returncode:
        print("the build failed; still serving the last good site", file=sys.stderr, flush=True)
    return told.returncode == 0


def watch(folders: Iterable[Path], before: Snapshot, changed: Callable[[], object], stop: threading.Event) -> None:
    """Call `changed` after every edit, once the files have been quiet for one look."""
    folders = tuple(folders)
    built = before
    last = before
    while not stop.wait(LOOK_EVERY):
        now = snapshot(folders)
        if now != built and now == last:
            print(f"changed: {', '.join(sorted(differences(built, now))[:3])}", flush=True)
            built = now
            changed()
        last = now


def snapshot(folders: Iterable[Path]) -> Snapshot:
    """Return when each file was last written, and its size."""
    found: Snapshot = {}
    for folder in folders:
        for parent, names, files in os.walk(folder):
            names[:] = [name for name in names if name not in IGNORED]
            for file in (Path(parent, name) for name in files):
                try:
                    told = file.stat()
                except OSError:  # gone again between listing and asking
                    continue
                found[str(file)] = (told.st_mtime_ns, told.st_size)
    return found


def differences(before: Snapshot, now: Snapshot) -> set[str]:
    """Return the names of files that came, went or changed."""
    return {Path(path).name for path in before.keys() | now.keys() if before.get(path) != now.get(path)}
