"""The same answers on a command line.

python3 -m calc list                                every calculator with the question it answers
python3 -m calc describe NAME                       inputs, units, limits, results, validity, sources
python3 -m calc NAME --input VALUE ... [--json]     an answer; values are SI, or text with a unit: --wheelbase "2560 mm"
python3 -m calc NAME --example                      an answer to the calculator's own example
python3 -m calc NAME ... --solve OUT=TARGET --vary IN [--from LO --to HI]    which IN brings OUT to TARGET
python3 -m calc NAME ... --sweep IN=LO:HI:N [--outputs OUT,OUT]              a table over a range, tab-separated
python3 -m calc NAME ... --tolerance IN=HALF_WIDTH[,IN=HALF_WIDTH]           how sure, and what to measure first
python3 -m calc check CAR.toml                      everything that is wrong with a car file
python3 -m calc answer                              questions as JSON lines on standard input, answers as JSON lines
"""

import json
import sys
from collections.abc import Sequence
from pathlib import Path
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


def _check(arguments: list[str]) -> int:
    from calc.car.lines import FileProblems
    from calc.car.schema import read_car

    if len(arguments) != 2:
        raise Refused("check", "takes one car file")
    try:
        values = read_car(Path(arguments[1]).read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError) as problem:
        raise Refused("check", "must be given a text file that can be read", arguments[1], hint=f"{problem}.") from None
    except FileProblems as problem:
        print(problem, file=sys.stderr)
        return 2
    print(f"{arguments[1]}: sound, {len(values.leaves)} values")
    return 0


def _evaluate(arguments: list[str]) -> int:
    name, *rest = arguments
    words = _inputs([word for word in rest if word not in _SWITCHES])
    question = {"name": name, "figures": False, **_asked({each: words.pop(each) for each in _ASKING if each in words})}
    if "--example" in rest:
        words = {**answer_object({"verb": "describe", "name": name})["example"], **words}
    question["inputs"] = words
    if "--json" in rest:
        said = answer(json.dumps(question))
        print(said)
        return 0 if said.startswith('{"answer"') else 2
    _PRINTERS[question.get("verb", "evaluate")](answer_object(question))
    return 0


def _asked(options: dict[str, str]) -> dict[str, Any]:
    """Return the part of the question that ``--solve``, ``--sweep`` or ``--tolerance`` stand for."""
    bounds = {key: options[word] for word, key in (("from", "low"), ("to", "high")) if word in options}
    if "solve" in options:
        output, target = _pair("--solve", options["solve"])
        return {"verb": "solve", "output": output, "target": target, "vary": options.get("vary", ""), **bounds}
    if "sweep" in options:
        vary, span = _pair("--sweep", options["sweep"])
        low, _, more = span.partition(":")
        high, _, count = more.partition(":")
        wanted = [each for each in options.get("outputs", "").split(",") if each]
        if not (low and high and (count or "41").isdigit()):
            raise Refused("--sweep", "must be INPUT=LOW:HIGH or INPUT=LOW:HIGH:COUNT", repr(options["sweep"]))
        return {"verb": "sweep", "vary": vary, "low": low, "high": high, "count": int(count or 41), "outputs": wanted}
    if "tolerance" in options:
        pairs = [_pair("--tolerance", each) for each in options["tolerance"].split(",")]
        return {"verb": "tolerance", "tolerances": dict(pairs)}
    return {}


def _pair(option: str, text: str) -> tuple[str, str]:
    name, equals, value = text.partition("=")
    if not (name and equals and value):
        raise Refused(option, "must be written as NAME=VALUE", repr(text))
    return name.strip().replace("-", "_"), value.strip()


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


def _written(value: dict[str, Any]) -> str:
    return with_unit(value["text"], value["unit"])


def _print_solved(said: dict[str, Any]) -> None:
    for root in said["roots"]:
        print(f"{root['label']:60} {_written(root)}")
    if not said["roots"]:
        low, high = map(_written, said["reach"])
        print(f"No value in the range gives {_written(said['target'])}: it reaches {low} to {high}.")
        print(f"Nearest: {_written(said['nearest'][1])} at {_written(said['nearest'][0])}.")


def _print_sweep(said: dict[str, Any]) -> None:
    for figure in said["figures"]:
        for row in (figure["table"]["head"], *figure["table"]["rows"]):
            print("\t".join(row))
    for gap in said["gaps"]:
        print(f"No answer from {_written(gap['from'])} to {_written(gap['to'])}: {gap['reason']}", file=sys.stderr)


def _print_tolerance(said: dict[str, Any]) -> None:
    for found in said["results"]:
        first = found["shares"][0]
        bent = f" (sampled: {_written(found['low'])} to {_written(found['high'])})" if found["bent"] else ""
        print(f"{found['label']:60} {_written(found)} ± {_written(found['plus_minus'])}{bent}")
        print(f"    {100 * first['share']:.0f} % of it from {first['input']}")


_SWITCHES = {"--json", "--example"}
_ASKING = ("solve", "vary", "from", "to", "sweep", "outputs", "tolerance")
_PRINTERS = {"evaluate": _print, "solve": _print_solved, "sweep": _print_sweep, "tolerance": _print_tolerance}
_COMMANDS = {"list": _list, "describe": _describe, "answer": _answer, "check": _check}

if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
