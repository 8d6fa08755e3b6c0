"""What the voice is given for what the assistant writes; the sound of it is checked by espeak-ng's own phonemes."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.voice.engine import phonemes
from benchvoice.voice.spelling import for_voice

WRITTEN = [
    # products of units, with every mark between them, and alone
    ("25 N·m", "25 newton metres"),
    ("25 N m, 60 Nm, 9 N_m", "25 newton metres, 60 newton metres, 9 newton metres"),
    ("one N·m", "one newton metre"),
    ("Torque (N·m): 25", "Torque, newton metres, 25"),
    ("2 kgf·m", "2 kilogram force metres"),
    ("60 ft lb or 20 lbf·ft", "60 foot pounds or 20 foot pounds"),
    ("90 in lb, in-lb", "90 inch pounds, inch pounds"),
    ("640 N/mm²", "640 newtons per square millimetre"),
    # of one and of many
    ("1 mm, 1.0 mm, 21 mm, 1.1 mm", "1 millimetre, 1.0 millimetres, 21 millimetres, 1.1 millimetres"),
    ("twenty-one mm, one point one mm", "twenty-one millimetres, one point one millimetres"),
    ("one hundred and one mm", "one hundred and one millimetres"),
    ("30 psi, 0.5 bar, 700 rpm", "30 P S I, 0.5 bar, 700 R P M"),
    ("80..110 °C, 10 degC", "80 to 110 degrees Celsius, 10 degrees Celsius"),
    ("+ 90°", "plus 90 degrees"),
    ("20 µm", "20 microns"),
    ("5' 6\" and 3″", "5 feet 6 inches and 3 inches"),
    ("8 min, 30 s, 2 h", "8 minutes, 30 seconds, 2 hours"),
    # "in" the unit and "in" the preposition
    ("over any 6 in, 4 over all", "over any 6 inches, 4 over all"),
    ("Turn bolt 4 in the block", "Turn bolt 4 in the block"),
    ("10 in long", "10 inches long"),
    ("2.5 in bore, 1.5 in limits", "2.5 inches bore, 1.5 in limits"),
    ("Two and a quarter, in limits.", "Two and a quarter, in limits."),
    # a place is no litre
    ("1L to 4R", "1L to 4R"),
    # fractions
    ("1/2 in", "a half inch"),
    ("1 3/8 in", "1 and 3 eighths inches"),
    ("9/16 AF", "9 sixteenths across flats"),
    ("2½ thou", "2 and a half thow"),
    ("3/8-24 UNF", "3 eighths, 24 U N F"),
    ("220/280", "220 over 280"),
    # numbers
    (".0015", "0.0015"),
    ("0.002-0.004", "0.002 to 0.004"),
    ("0.002 – 0.004", "0.002 to 0.004"),
    ("20 mm-30 mm", "20 millimetres to 30 millimetres"),
    ("1-3-4-2", "1, 3, 4, 2"),
    ("-0.002, −0.002, ±1, +2.5", "minus 0.002, minus 0.002, plus or minus 1, plus 2.5"),
    ("M12 × 1.75, M10x1.5", "M12 by 1.75, M10 by 1.5"),
    ("1,500 rpm", "1500 R P M"),
    ("9.540 and 30.0", "9.540 and 30.0"),
    ("2026-11-25 at 10:30", "25 November 2026 at 10:30"),
    ("1:1", "1 to 1"),
    # abbreviations and symbols
    ("No. 4 is tight", "number 4 is tight"),
    ("No. It isn't.", "No. It isn't."),
    ("#4 & #5", "number 4 and number 5"),
    ("min 2, max 9", "minimum 2, maximum 9"),
    ("RH thread, e.g. this", "right hand thread, for example this"),
    ("Ø 30, 4 %", "diameter 30, 4 per cent"),
    ("and/or, inlet/exhaust", "or, inlet or exhaust"),
    ("main_caps (all) — now…", "main caps, all, now."),
    ("≤ 3", "at most 3"),
    ("Ω", "omega"),
    ("crème, Ångström", "creme, Angstrom"),
    # capitals
    ("the TOP mark, ID, TDC", "the top mark, I D, T D C"),
    ("rod A, mark A4", "rod eh, mark A4"),
    ("A bolt", "A bolt"),
    # words
    ("Three thou.", "Three thow."),
    ("fifteen or 15", "fif-teen or fif-teen"),
    ("fifty or 50 or 15.5 or M16", "fifty or 50 or 15.5 or M16"),
    ("?!", ""),
    ("", ""),
]


@pytest.mark.parametrize(("written", "said"), WRITTEN)
def test_writes_out_what_the_voice_would_misread(written: str, said: str) -> None:
    assert for_voice(written) == said


SOUNDS = [
    ("thou", "θˈaʊ"),
    ("25 N·m", "twˈɛnti fˈaɪv nˈuːtən mˈiːɾɚz"),
    ("No. 4", "nˈʌmbɚ fˈɔːɹ"),
    ("a lead hammer", "ɐ lˈɛd hˈæmɚ"),
    ("the lead of the screw", "ðə lˈiːd ʌvðə skɹˈuː"),
    ("a tear", "ɐ tˈɛɹ"),
    ("Close the joint", "klˈoʊz ðə dʒˈɔɪnt"),
    ("too close to call", "tˈuː klˈoʊs tə kˈɔːl"),
    ("Polish it", "pˈɑːlɪʃ ɪt"),
    ("the TOP mark", "ðə tˈɑːp mˈɑːɹk"),
    ("a bowed rod", "ɐ bˈoʊd ɹˈɑːd"),
    ("Use new bolts", "jˈuːz nˈuː bˈoʊlts"),
    ("it was read", "ɪt wʌz ɹˈɛd"),
    ("micrometer", "maɪkɹˈɑːmɪɾɚ"),
    ("rod A", "ɹˈɑːd ˈeɪ"),
    ("fifteen", "fˈɪftˈiːn"),
    ("fifty", "fˈɪfti"),
    ("30 psi", "θˈɜːɾi pˈiː ˈɛs ˈaɪ"),
    ("3/8", "θɹˈiː ˈeɪtθs"),
    ("0.0015", "zˈiəɹoʊ pɔɪnt zˈiəɹoʊ zˈiəɹoʊ wˈʌn fˈaɪv"),
    ("2.9130", "tˈuː pɔɪnt nˈaɪn wˈʌn θɹˈiː zˈiəɹoʊ"),
    ("1-3-4-2", "wˈʌn | θɹˈiː | fˈɔːɹ | tˈuː"),
]


@pytest.mark.parametrize(("written", "sound"), SOUNDS)
def test_sounds_as_it_is_meant(written: str, sound: str) -> None:
    assert phonemes(for_voice(written)) == sound


SPOKEN_MARKS = ["slash", "dash", "dot", "underscore", "colon", "asterisk", "hash", "backslash", "bar line"]


@pytest.mark.parametrize("mark", sorted("!\"#$%&'()*+,-./:;<=>?@[\\]^_`{|}~°±×÷·–—…≤≥≈µΩ½²³№•→✓™\x00\n\t"))
@pytest.mark.parametrize(
    "form", ["4{}5", "4 {} 5", "cap{}bolt", "cap {} bolt", "{}4", "4{}", "cap{}", "4.5{}", "a {}{} b"]
)
def test_no_mark_is_read_out_by_its_name(mark: str, form: str) -> None:
    said = phonemes(for_voice(form.format(mark, mark))).split()
    names = {phonemes(name) for name in SPOKEN_MARKS} - {phonemes("dot") if mark == "." else ""}
    assert not names & set(said)


PIECES = ["25", "N·m", "-", ".", "1", "one", "a", "A", "in", "mm", "3/8", "½", "No.", "(", ")", ":", "TOP", "close"]
MARKS = "0123456789.,:;-–'\"/()xX× abAinmNftlb°C+±?!<>μ½_"


@given(st.text() | st.text(alphabet=MARKS) | st.lists(st.sampled_from([*PIECES, "the", "min", "°", " "])).map("".join))
def test_only_words_numbers_and_pauses_are_left_and_stay(text: str) -> None:
    said = for_voice(text)
    assert re.fullmatch(r"[A-Za-z0-9 .,;:?!'-]*", said)
    assert not re.search(r"(?<!\d)[:]|[:](?!\d)|[-'](?![A-Za-z])|(?<![A-Za-z0-9])['-]|[.,;?!] ?[.,;?!]", said)
    assert for_voice(said) == said
