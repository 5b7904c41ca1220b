"""Dispatch `python3 -m site_build COMMAND`.

This file and `bootstrap.py` run before anything is installed, perhaps on a Python that is too old: standard library
only, and no syntax newer than Python 3.7.
"""

import importlib
import sys
from typing import List

from site_build import bootstrap

# command: (module with main(arguments), what it needs installed, help line)
COMMANDS = {
    "serve": ("site_build.commands.serve", bootstrap.BUILD, "build the site, serve it here, rebuild on every edit"),
    "build": ("site_build.commands.build", bootstrap.BUILD, "build the site into site/"),
    "test": ("site_build.commands.test", bootstrap.TEST, "run every test; further words go to pytest"),
    "check": ("site_build.commands.check", bootstrap.TEST, "lint, types, import layers, JavaScript"),
    "pack": ("site_build.commands.pack", bootstrap.BUILD, "make a zip that runs anywhere with Python"),
    "bench": ("site_build.commands.bench", bootstrap.TEST, "measure start-up, answers, bytes and build time"),
    "setup": ("site_build.commands.setup", bootstrap.TEST, "only install what the other commands need"),
}


def usage() -> str:
    """Return the help text."""
    lines = ["python3 -m site_build COMMAND", ""]
    lines += ["  {:<7}{}".format(name, entry[2]) for name, entry in COMMANDS.items()]
    return "\n".join([*lines, "", "COMMAND --help tells more."])


def main(words: List[str]) -> int:
    """Install what the command needs, then run it."""
    if not words or words[0] in ("-h", "--help", "help"):
        print(usage())
        return 0
    if words[0] not in COMMANDS:
        print("no command {!r}\n\n{}".format(words[0], usage()), file=sys.stderr)
        return 2
    module, needs, _ = COMMANDS[words[0]]
    try:
        bootstrap.ensure(needs, words)
    except bootstrap.CannotStart as problem:
        print(problem, file=sys.stderr)
        return 1
    command = importlib.import_module(module)
    return int(command.main(words[1:]))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
