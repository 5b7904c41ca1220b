"""The same answers on a command line.

python3 -m calc list                                every calculator with the question it answers
python3 -m calc describe NAME                       inputs, units, limits, results, validity, sources
python3 -m calc NAME --input VALUE ... [--json]     an answer; values are SI, or text with a unit: --wheelbase "2560 mm"
python3 -m calc NAME --example                      an answer to the calculator's own example
python3 -m calc answer                              questions as JSON lines on standard input, answers as JSON lines
"""

import json
import sys
from collections.abc import Sequence
from typing import Any

from calc.answer import answer, answer_object
from calc.display import with_unit
from calc.refusal import Refused, RefusedTogether, refusals_of


def main(arguments: Sequence[str]) -> int:
    """Run the command line and return its exit status: 0 answered, 2 refused."""
    if not arguments or arguments[0] in {"-h", "--help", "help"}:
        print(__doc__.strip())
        return 0
    try:
        return _COMMANDS.get(arguments[0], _evaluate)(list(arguments))
    except (Refused, RefusedTogether) as problem:
        for each in refusals_of(problem):
            print(each.sentence, file=sys.stderr)
        return 2


def _list(arguments: list[str]) -> int:
    for line in answer_object({"verb": "list"}):
        print(f"{line['name']:28} {line['question']}")
    return 0


def _describe(arguments: list[str]) -> int:
    if len(arguments) != 2:
        raise Refused("describe", "takes the name of one calculator")
    about = answer_object({"verb": "describe", "name": arguments[1]})
    print(f"{about['title']}\n{about['question']}\n\nInputs:")
    for given in about["inputs"]:
        print(f"  --{given['name']:26} {given['label']}{_of(given)}")
    print("\nResults:")
    for found in about["outputs"]:
        print(f"  {found['name']:28} {found['label']}{', ' + found['unit'] if found['unit'] else ''}")
    for head, text in about["notes"].items():
        print(f"\n{head}: {text}")
    print("\nExample: " + " ".join(f'--{name} "{value}"' for name, value in about["example"].items()))
    return 0


def _of(given: dict[str, Any]) -> str:
    first = given["units"][0] if given["units"] else {}
    parts = (given["unit"], first.get("limits"), first.get("typical") and f"typically {first['typical']}")
    words = [str(part) for part in parts if part] + [option[0] for option in given["options"]]
    return f" ({'; '.join(words)})" if words else ""


def _answer(arguments: list[str]) -> int:
    for line in sys.stdin:
        if line.strip():
            print(answer(line), flush=True)
    return 0


def _evaluate(arguments: list[str]) -> int:
    name, *rest = arguments
    as_json, example = "--json" in rest, "--example" in rest
    inputs = _inputs([word for word in rest if word not in {"--json", "--example"}])
    if example:
        inputs = {**answer_object({"verb": "describe", "name": name})["example"], **inputs}
    if as_json:
        said = answer(json.dumps({"name": name, "inputs": inputs}))
        print(said)
        return 0 if said.startswith('{"answer"') else 2
    _print(answer_object({"name": name, "inputs": inputs, "figures": False}))
    return 0


def _inputs(words: list[str]) -> dict[str, Any]:
    """Return ``--name value`` pairs, also as ``--name=value``; a value that is JSON (a table) is read as such."""
    inputs: dict[str, Any] = {}
    while words:
        name, has_value, value = words.pop(0).partition("=")
        if not name.startswith("--"):
            raise Refused("argument", "must start with --, as in --wheelbase", repr(name))
        if not has_value:
            if not words:
                raise Refused(name, "needs a value")
            value = words.pop(0)
        inputs[name.removeprefix("--").replace("-", "_")] = json.loads(value) if value[:1] in {"[", "{"} else value
    return inputs


def _print(said: dict[str, Any]) -> None:
    for found in said["outputs"]:
        print(f"{found['label']:60} {with_unit(found['text'], found['unit'])}")
    for remark in said["remarks"]:
        print(f"{'Caution' if remark['level'] == 'caution' else 'Note'}: {remark['text']}")


_COMMANDS = {"list": _list, "describe": _describe, "answer": _answer}

if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
