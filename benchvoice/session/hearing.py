"""From words to what a step needs: places, positions, counts, and the reason that follows "because"."""

from collections.abc import Mapping

from benchvoice.procedure.models import Places
from benchvoice.procedure.places import every_place
from benchvoice.session.entries import Place
from benchvoice.speech.counts import whole_number as count_of
from benchvoice.speech.places import find_place, find_places
from benchvoice.speech.readings import Action, Context, parse_reading


def whole_number(text: str, what: str) -> int | None:
    """A count: "ten", "10", or with the name of what is counted, "ten main half shells"."""
    words = text.lower().strip()
    short = what.lower().split()[-1] if what.split() else ""
    for name in {what.lower(), what.lower().rstrip("s"), short, short.rstrip("s")}:
        if name and words.endswith(" " + name):
            words = words.removesuffix(" " + name)
    if words in ("none", "no"):
        return 0
    return count_of(words)


def named_place(text: str, places: Places, current: Place | None = None) -> Place | None:
    """The place that the whole text names, when at least one axis is a word or is named: a bare number is none."""
    if not places or _is_number(text):
        return None
    return find_place(text, places, current).place


def _is_number(text: str) -> bool:
    heard = parse_reading(text, Context(unit="1"))
    return heard.action is not Action.NOT_A_VALUE and count_of(text) is not None


def leading_place(text: str, places: Places, current: Place | None = None) -> tuple[Place | None, str]:
    """A place said before something else, and what follows it: "main two, two point eight".

    The place must be said in full or with its axis named, for a bare number before a number could belong to it.
    """
    words = text.replace(",", " , ").replace(":", " , ").split()
    if not places or len(words) < 2 or ("," not in words and _is_one_number(text)):
        return None, text
    for cut in range(min(len(words) - 1, 3 * len(places) + 2), 0, -1):
        head = " ".join(word for word in words[:cut] if word != ",")
        marked = words[cut] == "," or words[cut - 1] == ","
        rest = " ".join(word for word in words[cut:] if word != ",")
        if not rest or not head or (count_of(head) is not None and not marked):
            continue
        found = find_place(head, places, current).place
        if found is not None:
            return found, rest
    return None, text


def _is_one_number(text: str) -> bool:
    """Whether the whole text is one amount, such as "two and a quarter thou": no part of it is a place then."""
    heard = parse_reading(text, Context(unit="thou", work="inch"))
    return heard.action in (Action.TAKE, Action.READ_BACK)


def places_named(text: str, places: Places) -> tuple[Place, ...]:
    """Every place that the words name, whatever else they say: "the shell on four" is main four."""
    if not places:
        return ()
    words = text.replace(",", " ").split()
    found: dict[Place, None] = {}
    for start in range(len(words)):
        for end in range(min(len(words), start + 2 * len(places) + 2), start, -1):
            piece = " ".join(words[start:end])
            place = find_place(piece, places).place
            if place is not None:
                found[place] = None
                break
    return tuple(place for place in every_place(places) if place in found)


def split_reason(text: str, *, loose: bool = False) -> tuple[str, str | None]:
    """What is said and its reason: "measure again because I filed it"; loosely, after a comma or one word."""
    for mark in (" because of ", " because ", " since "):
        if mark in text:
            words, _, because = text.partition(mark)
            return words.strip(" ,"), because.strip() or None
    if loose:
        words, comma, because = text.partition(",")
        if comma:
            return words.strip(), because.strip() or None
        if text.startswith("measure "):
            return text, None
        first, _, rest = text.partition(" ")
        rest = rest.removeprefix("one ").removeprefix("one").strip() if rest.startswith("one") else rest
        return first, rest or None
    return text, None


def position_names(text: str, numbers: Mapping[str, int]) -> tuple[str, ...] | None:
    """Positions said by order number or by name, ranges and lists included; None when the words are neither."""
    ordered = sorted(numbers, key=lambda name: numbers[name])
    by_number = [str(numbers[name]) for name in ordered]
    named = find_places(text, by_number).places
    if named is not None and not _is_all(text):
        back = dict(zip(by_number, ordered, strict=True))
        return tuple(back[number] for number in named)
    direct = find_places(text, ordered).places
    return direct if direct is not None and not _is_all(text) else None


def _is_all(text: str) -> bool:
    return text.split(" ", 1)[0] in ("all", "every", "everything")
