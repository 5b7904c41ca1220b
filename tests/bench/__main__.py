"""Print figures and ratios. Nothing here passes or fails: a busy machine is no defect."""

import argparse
import os
import sys
import tempfile
from pathlib import Path

from playwright.sync_api import sync_playwright

from site_build.build import build_site
from site_build.project import Project

from . import answers, builds, calculators, drag, sites, sizes, starts

PARTS = ("start", "answers", "drag", "bytes", "build", "calculators")


def main():
    """Measure and print."""
    parser = argparse.ArgumentParser(prog="python3 -m site_build bench", description=__doc__)
    parser.add_argument("--runs", type=int, default=5, help="starts of each kind (default: %(default)s)")
    parser.add_argument("--only", choices=PARTS, help="one part")
    told = parser.parse_args()
    project = Project()
    chosen = (told.only,) if told.only else PARTS
    with tempfile.TemporaryDirectory() as folder:
        site = site_under_test(project, Path(folder))
        for text in report(project, site, Path(folder), chosen, told.runs):
            print(text, flush=True)
    return 0


def site_under_test(project, folder):
    """Return a built site: HANDBOOK_SITE where that is set, otherwise a fresh one."""
    given = os.environ.get("HANDBOOK_SITE")
    if given:
        return Path(given).resolve()
    build_site(project, folder / "site", say=lambda line: None)
    return folder / "site"


def report(project, site, folder, chosen, runs):
    """Yield the lines of the report."""
    path = sites.calculator_page(site)
    with sync_playwright() as playwright:
        if "start" in chosen:
            folders = {"ours": site, "stock": sites.stock_copy(site, folder, project.calc)}
            times = starts.alternating(lambda each: starts.cold(playwright, each, path, 1), folders, runs)
            yield starts.line("first live number, cold", times)
            times = {name: starts.warm(playwright, each, path, runs) for name, each in folders.items()}
            yield starts.line("first live number, saved, offline", times)
        if "answers" in chosen:
            yield from answers.measure(playwright, site, path, 200)
        if "drag" in chosen:
            yield from drag.measure(playwright, site)
        if "bytes" in chosen:
            yield from sizes.first_page(playwright, site, path)
            yield from sizes.offline_set(playwright, site, path)
    if "build" in chosen:
        yield from builds.measure(project)
    if "calculators" in chosen:
        yield from calculators.measure(project, runs)


if __name__ == "__main__":
    sys.exit(main())
