"""`pack`: the whole site with a launcher in one zip, for a stick or a machine without a network."""

from __future__ import annotations

import argparse
import sys
import zipfile
from pathlib import Path

from site_build import server
from site_build.build import BUILT_MARK, BuildProblem, build_site
from site_build.project import Project

FOLDER = "chassis-handbook"
LAUNCHER = Path(server.__file__)
LONG_AGO = (1980, 1, 1, 0, 0, 0)  # one fixed date, so that equal sites make equal zips
READ_ME = """Chassis Handbook

Needs Python 3.8 or newer, and no network.

  1. Unpack this zip.
  2. Double-click start.py, or run: python3 start.py
  3. Your browser opens the handbook. Ctrl-C in the window ends it.

Opening the pages as files, without start.py, shows the text but not the live calculators:
browsers do not let pages from files start them.
"""


def main(arguments: list[str]) -> int:
    """Build the site and pack it."""
    project = Project()
    parser = argparse.ArgumentParser(prog="python3 -m site_build pack", description="Pack the site into one zip.")
    parser.add_argument("--out", type=Path, default=project.root / f"{FOLDER}.zip", metavar="ZIP")
    target = parser.parse_args(arguments).out.resolve()
    try:
        build_site(project, project.site)
    except BuildProblem as problem:
        print(f"build failed: {problem}", file=sys.stderr)
        return 1
    pack(project.site, target)
    print(f"{target.name}  {target.stat().st_size / 1e6:.1f} MB")
    return 0


def pack(site: Path, target: Path) -> None:
    """Write the zip: the launcher, a note, and the site without what only debuggers read."""
    target.parent.mkdir(parents=True, exist_ok=True)
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as packed:
        add(packed, "start.py", LAUNCHER.read_bytes())
        add(packed, "README.txt", READ_ME.encode())
        for file in sorted(site.rglob("*")):
            if file.is_file() and file.suffix != ".map" and file.name != BUILT_MARK:
                add(packed, f"site/{file.relative_to(site).as_posix()}", file.read_bytes())


def add(packed: zipfile.ZipFile, name: str, content: bytes) -> None:
    """Add one file under the common folder."""
    entry = zipfile.ZipInfo(f"{FOLDER}/{name}", LONG_AGO)
    entry.external_attr = (0o755 if name == "start.py" else 0o644) << 16
    entry.compress_type = zipfile.ZIP_DEFLATED
    packed.writestr(entry, content)
