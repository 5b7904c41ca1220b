"""A page's fences are found wherever they stand, and a mistake in one is named with its line."""

import pytest

from site_build.fences import fences, read_calc, replace
from site_build.problems import PageProblem


def infos(text):
    return [fence.info for fence in fences(text)]


def test_a_fence_is_found_with_its_words_body_and_line():
    (fence,) = fences('before\n\n```calc wheel_rate #front quiet\na = "1 N"\n```\nafter')

    assert fence.info == ("calc", "wheel_rate", "#front", "quiet")
    assert fence.body == 'a = "1 N"'
    assert fence.line == 3


def test_a_fence_inside_a_longer_one_is_an_example():
    assert infos("````markdown\n```calc wheel_rate\n```\n````\n```calc lever\n```") == [
        ("markdown",),
        ("calc", "lever"),
    ]


def test_a_fence_in_a_box_keeps_its_indent_out_of_its_body():
    (fence,) = fences('!!! note\n    ```calc lever\n    a = "1 N"\n    ```\n')

    assert fence.indent == "    "
    assert fence.body == 'a = "1 N"'


def test_an_open_fence_runs_to_the_end():
    (fence,) = fences("```calc lever\na = 1")

    assert fence.body == "a = 1"


def test_only_answered_fences_are_replaced_and_only_other_lines_are_read_for_values():
    text = "one\n```calc lever\ntwo\n```\nthree\n```python\nfour\n```"

    made = replace(text, lambda fence: "SLOT" if fence.info[0] == "calc" else None, lambda line, n: f"{n}:{line}")

    assert made == "1:one\n\nSLOT\n\n5:three\n```python\nfour\n```"


def test_a_calc_fence_says_what_it_asks():
    (fence,) = fences('```calc lever #here figure\nforce = "1 N"\n[expect]\nlifted = "2 N"\n```')

    said = read_calc(fence, "page.md")

    assert (said.name, said.id, said.option) == ("lever", "here", "figure")
    assert said.inputs == {"force": "1 N"}
    assert said.expect == {"lifted": "2 N"}


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("```calc\n```", "page.md:1: a calc fence names its calculator"),
        ("```calc #only\n```", "page.md:1: a calc fence names its calculator"),
        ("```calc lever loud\n```", "page.md:1: 'loud' is not understood"),
        ("```calc lever #a #b\n```", "page.md:1: '#b' is not understood"),
        ("```calc lever #5\n```", "page.md:1: '#5' is not understood"),
        ('\n```calc lever\na = "1 N"\nb = 26 N/mm\n```', "page.md:4: "),
        ('```calc lever\nexpect = "2 N"\n```', "page.md:1: expect must be a table"),
    ],
)
def test_a_fence_that_is_not_understood_is_refused_with_its_line(text, told):
    (fence,) = fences(text)

    with pytest.raises(PageProblem) as refused:
        read_calc(fence, "page.md")

    assert str(refused.value).startswith(told)
