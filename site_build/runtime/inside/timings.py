"""How long each calculator takes for its own example, figures included. Runs inside Pyodide, and the same on the host."""

from __future__ import annotations

import json
import statistics
import time


def main(arguments: str) -> str:
    """Return {calculator: median milliseconds} as JSON; the arguments hold how often each is asked."""
    from calc import catalogue, form
    from calc.ask.evaluate import evaluate

    times = json.loads(arguments)["times"]
    found = {}
    for name in catalogue.names():
        example = dict(form.about(catalogue.load(name)).example)
        evaluate(name, example)
        runs = []
        for _ in range(times):
            start = time.perf_counter()
            evaluate(name, example)
            runs.append(1000 * (time.perf_counter() - start))
        found[name] = statistics.median(runs)
    return json.dumps(found)
