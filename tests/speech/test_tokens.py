"""Text into words."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.speech.tokens import is_figures, words_of


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("Four and a half thou.", "four and a half thou"),
        ("twenty-three thou", "twenty three thou"),
        ("won’t doesn't DON'T", "wont doesnt doesnt"),
        ("2.25 thou", "2.25 thou"),
        (".5 bar", ".5 bar"),
        ("-0.002", "minus 0.002"),
        ("−5", "minus 5"),
        ("- 5", "minus 5"),
        ("+0.05", "plus 0.05"),
        ("±2", "plus or minus 2"),
        ("4-5 thou", "4 to 5 thou"),
        ("4 – 5", "4 to 5"),
        ("3/8", "3/8"),
        ("1-1/2", "1 1/2"),
        ("1½ in", "1 1/2 in"),
        ("¼ ¾", "1/4 3/4"),
        ("25 N·m", "25 newton metres"),
        ("25 Nm", "25 newton metres"),
        ("25 n.m", "25 newton metres"),
        ("25 N_m", "25 newton metres"),
        ("33 ft-lb", "33 foot pounds"),
        ("33 lbf·ft", "33 foot pounds"),
        ("33 ft_lb", "33 foot pounds"),
        ("12 in lb", "12 inch pounds"),
        ("12 in_lb", "12 inch pounds"),
        ("7 kgf_m", "7 kilogram metres"),
        ("70 kgf cm", "70 kilogram centimetres"),
        ("3 lbs", "3 pounds"),
        ("10mm", "10 millimetres"),
        ("5µm", "5 microns"),
        ("5 um", "5 microns"),
        ("32psi", "32 psi"),
        ("200 kPa", "200 kilopascals"),
        ("2 MPa", "2 megapascals"),
        ("82°C", "82 degrees celsius"),
        ("82 degC", "82 degrees celsius"),
        ("180 °F", "180 degrees fahrenheit"),
        ("90°", "90 degrees"),
        ("90 deg", "90 degrees"),
        ('0.5"', "0.5 inches"),
        ("2 kg", "2 kilograms"),
        ("4 oz", "4 ounces"),
        ("50%", "50 percent"),
        ("1,5", "1 comma 5"),
        ("two, three", "two three"),
        ("decimal dot treble negative positive", "point point triple minus plus"),
        ("thous thow", "thou thou"),
        ("comma mmm inlb", "comma mmm inch pounds"),
        ("", ""),
        ("?!", ""),
    ],
)
def test_words(text, words):
    assert words_of(text) == tuple(words.split())


@given(st.text(max_size=60))
def test_any_text_falls_into_lower_case_words_without_spaces(text):
    words = words_of(text)
    assert all(word and word == word.lower() and not word.isspace() for word in words)
    assert words_of(" ".join(words)) == words or any(ord(c) > 127 for c in text)


def test_figures():
    assert all(is_figures(word) for word in ("25", "2.25", ".5", "3/8"))
    assert not any(is_figures(word) for word in ("two", "2.", "3/", "2.5.1", "-2", "", "2a"))
