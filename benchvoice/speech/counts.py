"""Whole numbers on their own, as counts are said."""

from benchvoice.speech.numbers import Form, numbers
from benchvoice.speech.tokens import words_of


def whole_number(text: str) -> int | None:
    """A whole number in words or figures: "ten", "2"; None where the text is no count, or could be several."""
    found = {int(number.value) for number in numbers(words_of(text)) if number.form is Form.COUNT and not number.places}
    return found.pop() if len(found) == 1 else None
