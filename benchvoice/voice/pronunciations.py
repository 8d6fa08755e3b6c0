"""Words that espeak-ng (en-us) says wrongly or that have two sounds, respelt so that it says the trade's.

Each was found with `engine.phonemes` and is checked there again by the tests. Respellings are for the ear only; they
never reach the log or the screen.
"""

import re

INITIALISMS = frozenset({"AF", "EP", "ID", "OD", "OHV", "PTO", "TIR", "UNC", "UNF"})
"""Said letter by letter although they hold a vowel; capitals with a vowel are otherwise a word ("the TOP mark")."""

_BE = "was|were|is|are|be|been|being|have|has|had|gets|got"

_RESPELT: tuple[tuple[str, str], ...] = (
    # the lead metal against the lead of a screw, a cable, a chamfer
    (r"\b(red|white|soft|sheet|of|or) lead\b", r"\1 led"),
    (r"\blead(?=[ -](?:hammer|mallet|seal|shot|wire|weight|foil|sheet|strip|plate|jaw|bead|free|plug)s?\b)", "led"),
    # in a shop a tear is in a gasket
    (r"\btear(s?)\b", r"tare\1"),
    (r"\bwound(s?)\b", "wownd"),
    (r"\bbowed\b", "bode"),
    (r"\bwind(s?)(?= (?:the|it|on|off|in|out|back|up|down|by)\b)", "wined"),
    # "close the joint", but "too close to call" and "a close fit"
    (r"(?<!too )(?<!very )(?<!so )(?<!how )(?<!as )(?<!a )\bclose\b(?! (?:to|by|fit|fitting|enough)\b)", "cloze"),
    # "use new bolts", but "in use" and "the first use"
    (r"(?<!in )(?<!of )(?<!no )(?<!the )(?<!any )(?<!first )(?<!for )(?<!out )\buse\b", "yooz"),
    (r"\buses\b", "yoozes"),
    (rf"\b({_BE}) read\b", r"\1 red"),
    (r"\bseparate(?= (?:the|them|it|each|both)\b)", "sepperate"),
    # the instrument; the unit micrometre is said micron
    (r"\bmicrometer(s?)\b", r"my-crommiter\1"),
    (r"\bmicrometre(s?)\b", r"micron\1"),
    (r"\bconrod(s?)\b", r"con rod\1"),
    (r"\bdeburr", "dee-burr"),
    (r"\bthou\b", "thow"),
    (r"\bpolish(?=ed|es|ing|\b)", "polish"),  # with a capital it would be the people
)

_TEENS = {
    "13": "thir-teen", "14": "four-teen", "15": "fif-teen", "16": "six-teen", "17": "seven-teen", "18": "eight-teen",
    "19": "nine-teen", "thirteen": "thir-teen", "fourteen": "four-teen", "fifteen": "fif-teen", "sixteen": "six-teen",
    "seventeen": "seven-teen", "eighteen": "eight-teen", "nineteen": "nine-teen",
}  # fmt: skip
"""The voice stresses fifteen as it does fifty; the hyphen gives the last syllable a stress of its own."""

_TEEN = re.compile(rf"(?<![\w.])(?:{'|'.join(_TEENS)})(?!\w|[.:]\d)", re.IGNORECASE)

_COMPILED = tuple((re.compile(pattern, re.IGNORECASE), respelt) for pattern, respelt in _RESPELT)


def pronounce(text: str) -> str:
    """Respell the words of text that the voice would say wrongly."""
    for pattern, respelt in _COMPILED:
        text = pattern.sub(respelt, text)
    return _TEEN.sub(lambda match: _TEENS[match[0].lower()], text)
