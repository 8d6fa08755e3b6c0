"""Which of the things that may be said at one moment sound nearly the same: an edit distance over their sounds.

The costs go by what two sounds share: voicing apart is little (p and b), then the place (p and t, m and n), then
everything (p and s). They are a judgement from general phonetics, without a source, and were looked at against what
the ear confuses: teen and ty, letters that rhyme, words with one consonant apart.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import accumulate, product
from math import inf

from benchvoice.ear.lexicon import Lexicon, Pronunciation

CLOSE = 0.8
"""Two phrases no further apart than this are easily confused: one near sound exchanged, or a weak one dropped."""

_CONSONANTS: Mapping[str, tuple[str, str, bool]] = {
    sound: (where, how, voiced)
    for how, rows in {
        "stop": "P:lip B+lip T:ridge D+ridge K:back G+back",
        "hiss": "F:lip V+lip TH:tooth DH+tooth S:ridge Z+ridge SH:palate ZH+palate HH:throat",
        "burst": "CH:palate JH+palate",
        "nose": "M+lip N+ridge NG+back",
        "glide": "W+lip L+ridge R+palate Y+front",
    }.items()
    for sound, voiced, where in (
        (row.split("+")[0], True, row.split("+")[1]) if "+" in row else (row.split(":")[0], False, row.split(":")[1])
        for row in rows.split()
    )
}
"""Where, how and whether with voice a consonant is made."""
_NEAR_VOWELS = frozenset(
    frozenset((first, second))
    for first, near in {
        "AH": ["UH", "AA", "AE", "ER", "IH", "EH"],
        "EH": ["IH", "AE", "EY"],
        "AO": ["AA", "OW", "AW"],
        "IY": ["IH"],
        "UW": ["UH"],
        "AY": ["OY", "EY"],
        "AA": ["AE"],
        "AW": ["OW"],
    }.items()
    for second in near
)
_NEAR_HISSES = frozenset(map(frozenset, [{"F", "TH"}, {"V", "DH"}, {"S", "SH"}, {"Z", "ZH"}, {"TH", "S"}]))
_WEAK = frozenset({"HH", "AH", "T", "D"})
"""Sounds that are often swallowed."""


@dataclass(frozen=True, slots=True)
class Pair:
    """Two phrases that may be said at one moment, and how far apart they sound: 0 is the same."""

    one: str
    other: str
    distance: float


@cache
def exchange(one: str, other: str) -> float:
    """What it costs to hear one sound for another: 0 to 1."""
    if one == other:
        return 0.0
    first, second = _CONSONANTS.get(one), _CONSONANTS.get(other)
    if first is None and second is None:
        return 0.4 if frozenset((one, other)) in _NEAR_VOWELS else 0.8
    if first is None or second is None:
        return 1.0
    same_place, same_manner, same_voice = (a == b for a, b in zip(first, second, strict=True))
    if same_place and same_manner:
        return 0.3
    if frozenset((one, other)) in _NEAR_HISSES:
        return 0.4
    if same_manner and same_voice:
        return 0.4 if first[1] == "nose" else 0.6
    return 0.8 if same_place or same_manner else 1.0


_LEAST_LOSS = 0.5


def _loss(sound: str) -> float:
    return _LEAST_LOSS if sound in _WEAK else 0.9


def apart(one: Sequence[str], other: Sequence[str], within: float = inf) -> float:
    """The least cost that turns one row of sounds into the other; infinite where it is more than `within`.

    Most pairs are far apart, and that is known after a sound or two: no cost falls from row to row.
    """
    if _LEAST_LOSS * abs(len(one) - len(other)) > within:
        return inf
    losses = [_loss(sound) for sound in other]
    row = [0.0, *accumulate(losses)]
    for sound in one:
        loss = _loss(sound)
        diagonal, row[0] = row[0], row[0] + loss
        for j, (against, other_loss) in enumerate(zip(other, losses, strict=True), 1):
            best = min(diagonal + exchange(sound, against), row[j] + loss, row[j - 1] + other_loss)
            diagonal, row[j] = row[j], best
        if min(row) > within:
            return inf
    return row[-1] if row[-1] <= within else inf


def sounds_of(phrase: str, lexicon: Lexicon) -> list[Pronunciation]:
    """Every way in which a phrase can be said; none when a word of it has no pronunciation."""
    ways = [lexicon.get(word, ()) for word in phrase.split()]
    return [tuple(sound for part in parts for sound in part) for parts in product(*ways)] if phrase.split() else []


def distance(one: str, other: str, lexicon: Lexicon, within: float = inf) -> float | None:
    """How far apart two phrases sound where they are most alike; None when one can't be pronounced.

    Infinite where it is more than `within`.

    Words that both begin or end with are the same for both, and left out.
    """
    first, second = one.split(), other.split()
    while first and second and first[0] == second[0]:
        first, second = first[1:], second[1:]
    while first and second and first[-1] == second[-1]:
        first, second = first[:-1], second[:-1]
    ways = [sounds_of(" ".join(words), lexicon) if words else [()] for words in (first, second)]
    if not all(ways):
        return None
    return min(apart(a, b, within) for a in ways[0] for b in ways[1])


def alike(phrases: Iterable[str], lexicon: Lexicon, among: Iterable[str] = (), within: float = CLOSE) -> list[Pair]:
    """Pairs of phrases that are easily confused, nearest first: of `phrases` with one another and with `among`."""
    own = list(dict.fromkeys(phrases))
    others = [phrase for phrase in dict.fromkeys(among) if phrase not in own]
    candidates = [(one, other) for k, one in enumerate(own) for other in [*own[k + 1 :], *others]]
    found = []
    for one, other in candidates:
        far = distance(one, other, lexicon, within)
        if far is not None and far <= within:
            found.append(Pair(one, other, round(far, 2)))
    return sorted(found, key=lambda pair: pair.distance)
