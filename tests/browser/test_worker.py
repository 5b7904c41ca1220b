"""Python in its worker: it boots, answers, says when it cannot, and can be tried again."""

import json

LIST = json.dumps({"verb": "list"})

# Connect to a Python of the test's own through the site's module, and keep what it says.
CONNECT = """async () => {
  const { connectPython } = await import('/assets/handbook/python.js');
  const python = connectPython();
  window.mine = { python, states: [] };
  python.onState((state) => window.mine.states.push(state));
}"""
ASK = (
    "question => window.mine.python.ask(question).then(answer => ({ answer }), problem => ({ error: problem.message }))"
)
STATES = "() => window.mine.states.map(state => state.stage ?? state.state)"


def test_boots_in_named_stages_and_answers(page):
    page.goto("/index.html")
    page.evaluate(CONNECT)

    told = page.evaluate(ASK, LIST)

    assert json.loads(told["answer"])["answer"]
    stages = page.evaluate(STATES)
    assert stages[0] == "asleep"
    assert [stage for number, stage in enumerate(stages) if stage not in stages[:number]] == [
        "asleep",
        "engine",
        "python",
        "calculators",
        "ready",
    ]


def test_the_browser_answers_what_this_python_answers(page):
    from calc.answer import answer

    page.goto("/index.html")
    page.evaluate(CONNECT)

    assert page.evaluate(ASK, LIST)["answer"] == answer(LIST)


def test_a_refusal_is_an_answer(page):
    page.goto("/index.html")
    page.evaluate(CONNECT)

    told = page.evaluate(ASK, json.dumps({"name": "no_such_calculator", "inputs": {}}))

    assert json.loads(told["answer"])["refused"]


def test_a_failed_start_names_the_file_and_is_retried(page):
    page.goto("/index.html")
    page.context.route("**/calc.zip", lambda route: route.fulfill(status=503, body="busy"))
    page.evaluate(CONNECT)

    assert "calc.zip: 503" in page.evaluate(ASK, LIST)["error"]
    assert page.evaluate(STATES)[-1] == "failed"

    page.context.unroute("**/calc.zip")
    page.evaluate("() => window.mine.python.retry()")

    assert "answer" in page.evaluate(ASK, LIST)
    assert page.evaluate(STATES)[-1] == "ready"


def test_a_worker_script_that_is_missing_is_a_failed_start(page):
    page.goto("/index.html")
    page.context.route("**/worker.js", lambda route: route.fulfill(status=404, body="gone"))
    page.evaluate(CONNECT)

    assert page.evaluate(ASK, LIST)["error"]
    assert page.evaluate(STATES)[-1] == "failed"


def test_a_second_python_can_be_ended_in_the_middle_of_its_work(page):
    page.goto("/index.html")
    page.evaluate(CONNECT)
    page.evaluate(ASK, LIST)
    forever = json.dumps({"verb": "run", "source": "while True: pass"})

    told = page.evaluate(
        """async (question) => {
          const stuck = window.mine.python.ask(question).catch(problem => problem.message);
          setTimeout(() => window.mine.python.stop(), 50);
          return stuck;
        }""",
        forever,
    )

    assert told == "Python was stopped"
    assert "answer" in page.evaluate(ASK, LIST)


def test_whatever_a_cell_did_a_retry_brings_python_back(page):
    page.goto("/index.html")
    page.evaluate(CONNECT)
    deep = json.dumps({"verb": "run", "source": "import json\njson.loads('[' * 100_000)"})

    page.evaluate(ASK, deep)  # a RecursionError, or the end of this Python: engines differ
    page.evaluate("() => window.mine.python.retry()")

    assert "answer" in page.evaluate(ASK, LIST)
