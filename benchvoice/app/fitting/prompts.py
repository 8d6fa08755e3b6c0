"""What a person reads aloud for a fit: about two minutes of what is said at a bench."""

from benchvoice.session.commands import COMMANDS
from benchvoice.speech.vocabulary import number_words

PROMPTS = (
    "zero one two three four",
    "five six seven eight nine",
    "two point seven five",
    "zero point one three",
    "four and a half thou",
    "fourteen",
    "forty",
    "nine point zero six",
    "three and a quarter thou",
    "eighteen",
    "eighty",
    "seven point eight",
    "next",
    "done",
    "fifteen point two",
    "fifty",
    "six hundred and twenty",
    "go back",
    "thirteen",
    "thirty",
    "one and three quarter thou",
    "twelve millimetres",
    "say again",
    "zero point zero zero four",
    "nineteen",
    "ninety",
    "eleven newton metres",
    "hold on",
    "carry on",
    "seventeen",
    "seventy",
    "five tenths",
    "twenty two degrees",
    "where am i",
    "sixteen",
    "sixty",
    "eight hundredths",
    "number ten",
    "wrong",
    "correction six point three",
    "left",
    "right",
    "front",
    "rear",
    "measure again",
    "minus one point five",
    "top",
    "bottom",
    "yes",
    "no",
    "inner",
    "outer",
)
"""Every one is a reading, a command or a place; every third or so of the words comes more than once."""


def vocabulary() -> tuple[str, ...]:
    """Words that could be said at a bench, besides those that were: what the read ones must stand out from."""
    commands = [word for command in COMMANDS for phrase in (*command.says, *command.leads) for word in phrase.split()]
    read = [word for prompt in PROMPTS for word in prompt.split()]
    return tuple(dict.fromkeys([*read, *sorted(number_words()), *commands]))
