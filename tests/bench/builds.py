"""How long a build takes, with and without the runtime step."""

import tempfile
import time
from pathlib import Path

from site_build.build import build_site
from site_build.runtime import assets


def measure(project):
    """Return lines of the report."""
    with tempfile.TemporaryDirectory(dir=project.cache) as folder:
        took = build_site(project, Path(folder) / "site", say=lambda line: None)
        pages = len(list((Path(folder) / "site").rglob("*.html")))
        start = time.monotonic()
        library = assets.trimmed_library(Path(folder))
        made_library = time.monotonic() - start
        assets.packages(project.calc, library, Path(folder))
        made_calc = time.monotonic() - start - made_library
    rest = sum(seconds for step, seconds in took.items() if step != "runtime")
    yield f"{'build without runtime step':<34}{rest:7.2f} s for {pages} pages"
    yield f"{'runtime step, nothing cached':<34}{made_library + made_calc:7.2f} s"
    yield f"{'runtime step, only calc changed':<34}{made_calc:7.2f} s"
