"""Equations become MathML; in the working, numbers stand exactly where their symbols stood."""

import re

import pytest

from site_build.equations import NotAnEquation, in_prose, mathml, number_text, with_numbers

SYMBOLS = {
    "rate": "k_s",
    "ratio": "MR",
    "angle": r"\alpha",
    "load": "m",
    "left": "m_{fl}",
    "slope": "r'",
    "wheel": "k_w",
}
NUMBERS = {
    "rate": "60000",
    "ratio": "0.9",
    "angle": "0.2",
    "load": "250",
    "left": "−12",
    "slope": "3",
    "wheel": "48600",
}


def said(latex):
    """Return the numbers line as plain words, with | for a fraction bar."""
    html = with_numbers(latex, SYMBOLS, NUMBERS)
    words = re.sub(
        r"<(/?)(\w+)[^>]*>", lambda tag: "(" if tag[0] == "<mfrac>" else ")" if tag[0] == "</mfrac>" else " ", html
    )
    return " ".join(words.split())


@pytest.mark.parametrize(
    ("latex", "line"),
    [
        (r"k_w = k_s \, {MR}^2", "= 60000 × 0.9 2"),
        (r"x = k_s \, \cos \alpha", "= 60000 × cos 0.2"),
        (r"x = \frac{m \, g}{k_s}", "= ( 250 × g 60000 )"),
        (r"x = m (1 - \alpha)", "= 250 × ( 1 − 0.2 )"),
        (r"x = m_{fl} + m", "= (−12) + 250"),
        (r"x = m_{fr} + m", "= m f r + 250"),  # an index makes another symbol: m inside it stays
        (r"x = \frac{1}{2 \pi} \sqrt{\frac{k_s}{m}}", "= ( 1 2 π ) × ( 60000 250 )"),
        (r"x = k_s \, r'", "= 60000 × 3"),
        (r"x = 2 \cdot k_s", "= 2 · 60000"),
        (r"x = \dot{m} \, k_s", None),
    ],
)
def test_numbers_stand_where_symbols_stood(latex, line):
    if line is None:  # a dot makes another symbol
        assert 'data-value="load"' not in with_numbers(latex, SYMBOLS, NUMBERS)
    else:
        assert said(latex) == line


def test_each_number_says_whose_it_is():
    html = with_numbers(r"k_w = k_s \, {MR}^2", SYMBOLS, NUMBERS)

    assert re.findall(r'<mn data-value="(\w+)">', html) == ["rate", "ratio"]


def test_a_number_that_is_missing_is_a_dash():
    assert '<mn data-value="rate">–</mn>' in with_numbers("x = k_s", SYMBOLS, {})


def test_a_line_without_an_equals_sign_has_no_numbers():
    assert with_numbers("k_s", SYMBOLS, NUMBERS) == ""


@pytest.mark.parametrize(
    "latex", [r"\begin{cases} a & b \\ c & d \end{cases}", r"\left|v\right|", r"a\!b", r"\dot{\theta}"]
)
def test_no_equation_carries_a_style(latex):
    assert "style=" not in mathml(latex)
    assert "mathspace" not in mathml(latex)


def test_equations_of_the_text_are_set_inline_and_displayed():
    html = in_prose(
        '<p>a <span class="arithmatex">\\(x &lt; 1\\)</span></p><div class="arithmatex">\\[\ny^2\n\\]</div>'
    )

    assert html.count("<math") == 2
    assert 'display="block"' in html
    assert "arithmatex" not in html
    assert "&lt;" in html


@pytest.mark.parametrize("latex", [r"\begin{aligned} a &= b \end{aligned}", r"\frac{", r"\left( a"])
def test_latex_that_cannot_be_set_is_refused(latex):
    with pytest.raises(NotAnEquation, match="is not an equation that can be set"):
        mathml(latex)


@pytest.mark.parametrize(("text", "written"), [("−5", "(−5)"), ("2.5", "2.5"), ("2.5 × 10⁻¹³", "(2.5 × 10⁻¹³)")])
def test_what_would_be_misread_stands_in_brackets(text, written):
    assert number_text(text) == written
