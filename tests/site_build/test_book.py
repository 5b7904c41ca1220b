"""The small book, built: what stands in the article, the order of pages, and how a mistake is told."""

import re
from pathlib import Path

import pytest

from calc import catalogue
from site_build import asking, contents, reference
from site_build.build import BuildProblem, build_pages
from site_build.pages import prepare
from site_build.problems import PageProblem
from tests.small_book import project

GOLDEN = Path(__file__).parent / "golden"
LEVER = """# What does a lever do?

!!! paddock "In ten seconds"
    It gives `=it.lifted` for `=it.inputs.force`, or not.

```calc lever #it
force = "100 N"
arm = "300 mm"
holes = [{name = "near", distance = "100 mm"}, ["far", "8 in", false]]
[expect]
lifted = "295 N"
```
"""
FIGURE = """# And drawn?

An equation $F_2 = r F_1$ in a line.

- In a list:

    ```calc lever figure
    force = "100 N"
    arm = "300 mm"
    ```

```python live
print(6 * 7)
```

```calc-index
```
"""
# a value may only stand below its fence
LEVER = (
    LEVER.replace("It gives `=it.lifted` for `=it.inputs.force`, or not.", "It gives much.")
    + "\nSo `=it.lifted` for `=it.inputs.force`.\n"
)


@pytest.fixture
def toy(monkeypatch):
    """A catalogue with one calculator."""
    entry = catalogue.Entry("lever", "tests.site_build.toy", "springs")
    monkeypatch.setattr(catalogue, "CATALOGUE", {"lever": entry})
    monkeypatch.setenv("HANDBOOK_COMPLETE", "true")
    clear()
    yield
    clear()


def clear():
    asking.describe.cache_clear()
    asking.every.cache_clear()
    catalogue.load.cache_clear()


def built(tmp_path, **pages):
    """Build a book of these pages and return its site."""
    root, handbook = tmp_path / "root", tmp_path / "handbook"
    root.mkdir()
    for name, text in {"index": "# Home\n", **pages}.items():
        file = handbook / (f"springs/{name}.md" if name != "index" else "index.md")
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8")
    build_pages(project(root, handbook), tmp_path / "site")
    return tmp_path / "site"


def article(site, page):
    """Return what is ours of a page, a tag a line; drawings have tests of their own."""
    html = (site / page).read_text("utf-8")
    inner = re.search(r'<article class="md-content__inner md-typeset">(.*?)</article>', html, re.DOTALL)[1]
    inner = re.sub(r"(<svg[^>]*>).*?</svg>", r"\1</svg>", inner, flags=re.DOTALL)
    return re.sub(r">\s*<", ">\n<", inner).strip() + "\n"


@pytest.mark.usefixtures("toy")
def test_two_pages_are_what_they_were(tmp_path, request):
    site = built(tmp_path, lever=LEVER, figure=FIGURE)

    for name in ("lever", "figure"):
        made, kept = article(site, f"springs/{name}.html"), GOLDEN / f"{name}.html"
        if request.config.getoption("--update-golden"):
            kept.parent.mkdir(exist_ok=True)
            kept.write_text(made, encoding="utf-8")
        assert made == kept.read_text("utf-8"), (
            f"{kept.name} differs; if it should: pytest --update-golden, then read the diff"
        )


@pytest.mark.usefixtures("toy")
def test_a_calculator_without_a_page_fails_the_build(tmp_path, caplog):
    with pytest.raises(BuildProblem):
        built(tmp_path)
    assert "these calculators have no page in the handbook: lever" in caplog.text


@pytest.mark.usefixtures("toy")
@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("# A\n\n```calc levr\n```\n", r"springs/lever.md:3: .*Did you mean lever\?"),
        ("# A\n\n```calc-list\n```\n", "springs/lever.md:3: 'calc-list' is not a fence of this book"),
        ("# A\n\n```python live\n1 / 0\n```\n", "springs/lever.md:3: the live cell fails: Line 1: ZeroDivisionError"),
        ("# A\n\n$\\frac{$\n", "springs/lever.md:.*is not an equation"),
        ("# It\n\n```calc lever #it\n```\n", "springs/lever.md:3: #it is also the anchor of a heading"),
        ("# A\n\n[B](../index.md#nowhere)\n", "springs/lever.md.*does not contain an anchor"),
    ],
)
def test_a_mistake_is_told_with_its_file_and_line(tmp_path, caplog, text, told):
    with pytest.raises(BuildProblem):
        built(tmp_path, home="# Home\n\n```calc lever\n```\n", lever=text)
    assert re.search(told, caplog.text)


@pytest.mark.usefixtures("toy")
def test_a_fence_can_be_linked_to_from_another_page(tmp_path):
    site = built(tmp_path, lever="# A\n\n```calc lever #it\n```\n", other="# B\n\n[there](lever.md#it)\n")

    assert 'href="lever.html#it"' in (site / "springs" / "other.html").read_text("utf-8")


@pytest.mark.usefixtures("toy")
def test_the_reference_is_made_from_the_calculator(tmp_path):
    site = built(tmp_path, lever="# A\n\n```calc lever #it\n```\n")
    html = (site / "reference" / "calculators-springs.html").read_text("utf-8")

    for said in (
        "Force at the hand",
        "needed",
        "not known",
        "pushed / pulled",
        "small angles.",
        "2 rows",
        'href="../springs/lever.html#it"',
    ):
        assert said in html, said
    assert "python3 -m calc lever --force &quot;100 N&quot;" in html or 'python3 -m calc lever --force "100 N"' in html


@pytest.mark.usefixtures("toy")
def test_a_value_above_its_fence_is_refused():
    with pytest.raises(PageProblem, match=r"page\.md:1: no fence above is named #it"):
        prepare("`=it.lifted`\n\n```calc lever #it\n```\n", "page.md")


@pytest.mark.usefixtures("toy")
def test_an_example_of_the_syntax_stays_as_it_is():
    text = "````markdown\n```calc lever\n```\nand `=it.lifted`\n````\n"

    assert prepare(text, "page.md").markdown == text


def test_pages_stand_in_the_order_of_the_calculators_they_are_home_to(tmp_path):
    for name, text in {
        "index.md": "# Home",
        "springs/aaa.md": "# Last: home to nothing",
        "springs/b.md": "```calc ride_frequency\n```",
        "springs/c.md": "```calc wheel_rate\n```",
        "springs/zzz.md": "---\norder: 1\n---\n# First: it says so",
        "start/x.md": "# X",
        "unheard/y.md": "# Y",
    }.items():
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(text, encoding="utf-8")

    order = contents.pages_in_order(tmp_path)

    assert list(order) == ["", "start", "springs", "unheard"]
    assert [page.rpartition("/")[2] for page in order["springs"]] == ["zzz.md", "c.md", "b.md", "aaa.md"]


def test_a_home_is_the_first_page_that_shows_a_calculator(tmp_path):
    (tmp_path / "index.md").write_text("```calc wheel_rate #front\n```", encoding="utf-8")
    (tmp_path / "springs").mkdir()
    (tmp_path / "springs" / "a.md").write_text(
        "```calc wheel_rate #one quiet\n```\n```calc wheel_rate #two\n```", encoding="utf-8"
    )

    assert contents.homes(tmp_path) == {"wheel_rate": contents.Home("springs/a.md", "two")}


def test_every_calculator_is_in_the_generated_reference():
    pages = reference.pages({})

    for each in asking.every():
        assert f"{{#{each['name']}}}" in pages[f"reference/calculators-{each['chapter']}.md"]
