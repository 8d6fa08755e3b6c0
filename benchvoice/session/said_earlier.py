"""Whether an utterance says that something was done or read at another time: kept as said later, and closing nothing.

"I did stage one last night"; "a was torqued yesterday"; "it was point one five this morning". The whole utterance says
it, with its time; what is denied, asked, or said to another person is none.
"""

import re

from benchvoice.speech.shapes import has_number
from benchvoice.speech.tokens import words_of

WHEN = (
    *("last night", "last week", "last month", "yesterday", "earlier", "earlier on", "this morning", "this afternoon"),
    *("before", "before lunch", "the other day", "the night before", "already"),
)
_DAYS = "(?:mon|tues|wednes|thurs|fri|satur|sun)day"
_WHEN = rf"(?:from )?(?:{'|'.join(WHEN)}|on {_DAYS}|last {_DAYS}|(?:[a-z]+ ){{0,3}}ago)"
_DID = "did|done|torqued|tightened|measured|checked|read|put|spread|fitted|laid|cleaned|oiled|set|saw|seen|looked at"
_DONE = "done|torqued|tightened|measured|checked|read|put|spread|fitted|laid|cleaned|oiled|set|seen|witnessed"
_WHO = "i've|we've|i have|we have|i|we|[a-z]+ has|[a-z]+'s|[a-z]+"
_FORMS = tuple(
    re.compile(form)
    for form in (
        rf"(?:{_WHO}) (?:already |all |only )*(?:{_DID})(?: .+)? {_WHEN}",
        rf".+?(?: was| were| is| are|'s|'re|) (?:already |all )*(?:{_DONE})(?: .+)? {_WHEN}",
        rf"(?:did|done)(?: .+)? {_WHEN}",
        r"already (?:did|done)(?: .+)?",
        rf"(?:{_WHO}) already (?:{_DID})(?: .+)?",
        r"(?:i|we|i've|we've)(?: already)? (?:did|done|torqued|tightened) (?:stage|step) .+",
    )
)
_READ = tuple(
    re.compile(form)
    for form in (
        rf"(?:it was|it read|it said|i measured|i read|i had|we had)(?: it)? (?P<what>.+) {_WHEN}",
        rf"(?:i|we) (?:measured|read) .*{_WHEN}(?: it was)? (?P<what>.+)",
    )
)
"""A figure of another time."""
_OTHERWISE = re.compile(r"\b(?:not|never|nobody|you|shall|should|will|would|if|who|what|when|why|how)\b|n't\b")
"""What makes it a denial, a wish, a question, or talk to another person."""
_ASKS = re.compile(r"(?:did (?!it|that|this|stage|step|all)|have |has |was (?!already)|were |is |are |do |does ).*")
"""A question, by its first word: "did it last night" is none, and "was already done" is none."""


def said_earlier(text: str) -> bool:
    """Whether the whole utterance says that something was done, or read, at another time."""
    words = text.replace(",", "")
    if _OTHERWISE.search(words) or _ASKS.fullmatch(words):
        return False
    if any(form.fullmatch(words) for form in _FORMS):
        return True
    read = next((found for form in _READ if (found := form.fullmatch(words))), None)
    return read is not None and has_number(words_of(read["what"]))
