"""`build`: make the site once."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from site_build.build import BuildProblem, build_site
from site_build.project import Project


def main(arguments: list[str]) -> int:
    """Build the site; on failure say why and leave the last good one."""
    project = Project()
    parser = argparse.ArgumentParser(prog="python3 -m site_build build", description="Build the site.")
    parser.add_argument("--out", type=Path, default=project.site, metavar="DIR", help="default: site/")
    out = parser.parse_args(arguments).out.resolve()
    try:
        took = build_site(project, out)
    except BuildProblem as problem:
        print(f"build failed: {problem}", file=sys.stderr)
        return 1
    print(f"{'total':<8}{sum(took.values()):6.2f} s  {out.name}/")
    return 0
