"""How long each calculator takes on the host and in the browser's Python."""

import json

from site_build.runtime import assets, node
from site_build.runtime.inside import timings

SLOW = 20.0  # ms in the browser's Python; above this a calculator is marked


def measure(project, times):
    """Yield lines: medians in CPython and Pyodide and their ratio, the slowest first."""
    asked = {"times": times}
    host = json.loads(timings.main(json.dumps(asked)))
    files = assets.assemble(project.calc, project.cache)
    browser = node.run_inside("timings", asked, library=files[assets.LIBRARY], archives=[files[assets.CALC]])
    yield f"{'calculator':34} {'CPython ms':>11} {'Pyodide ms':>11} {'ratio':>6}"
    for name in sorted(browser, key=browser.get, reverse=True):
        mark = "  over 20 ms" if browser[name] > SLOW else ""
        yield f"{name:34} {host[name]:11.2f} {browser[name]:11.2f} {browser[name] / host[name]:6.1f}{mark}"
