"""How long until the first live number: a new browser, and one that has saved the site and has no network."""

import tempfile
import threading
from contextlib import contextmanager
from statistics import median

from site_build.commands.test import chromium
from site_build.server import SiteServer

from . import page as pages
from . import sites

FLAGS = ["--disable-gpu", "--no-first-run", "--disable-background-networking", "--no-sandbox"]


@contextmanager
def serving(folder, port=0):
    """Serve a folder while the block runs."""
    server = SiteServer(folder, port)
    thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.01}, daemon=True)
    thread.start()
    try:
        yield server
    finally:
        server.shutdown()
        thread.join()
        server.server_close()


@contextmanager
def browser(playwright, profile):
    """A browser process of its own on a profile folder."""
    context = playwright.chromium.launch_persistent_context(profile, executable_path=chromium(), args=FLAGS)
    try:
        yield context
    finally:
        context.close()


def first_answer(context, base, path):
    """Return the milliseconds from navigation to the first answer."""
    question = sites.question()
    page = context.new_page()
    page.goto(base + path, wait_until="commit")
    return page.evaluate(pages.FIRST_ANSWER, [base, question])


def cold(playwright, folder, path, runs):
    """Return the milliseconds of each of `runs` first visits."""
    took = []
    for _ in range(runs):
        with (
            tempfile.TemporaryDirectory() as profile,
            serving(folder) as server,
            browser(playwright, profile) as context,
        ):
            took.append(first_answer(context, server.url, path))
    return took


def warm(playwright, folder, path, runs):
    """Return the milliseconds of each of `runs` visits without a network; the first two, which fill caches, are left out."""
    took = []
    with tempfile.TemporaryDirectory() as profile:
        with serving(folder) as server, browser(playwright, profile) as context:
            url = server.url
            first = context.new_page()
            first.goto(url + path)
            if not first.evaluate(pages.SAVED, url):
                return []
        for _ in range(runs + 2):
            with browser(playwright, profile) as context:
                took.append(first_answer(context, url, path))
    return took[2:]


def alternating(measure, folders, runs):
    """Return {name: all times}: one run of each in turn, so that a busy moment of the machine touches all alike."""
    times = {name: [] for name in folders}
    for _ in range(runs):
        for name, folder in folders.items():
            times[name] += measure(folder)
    return times


def line(title, times):
    """Return one line of the report: medians and their ratio to stock."""
    ours, stock = times["ours"], times["stock"]
    if not ours or not stock:
        return f"{title}: the page does not save itself yet"
    ratio = median(ours) / median(stock)
    return (
        f"{title:<34}{median(ours):7.0f} ms   stock {median(stock):6.0f} ms   ratio {ratio:.2f}   "
        f"({min(ours):.0f}-{max(ours):.0f} against {min(stock):.0f}-{max(stock):.0f}, {len(ours)} runs)"
    )
