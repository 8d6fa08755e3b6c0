"""Names of people, as they are said: one or two words, none of them a word of talk."""

_NO_NAME = frozenset(
    {"who", "he", "she", "they", "i", "i'm", "we", "you", "it", "me", "myself", "us", "him", "her", "them"}
    | {"no", "not", "nobody", "someone", "somebody", "none", "nothing", "yes", "yeah", "yep", "nope", "yet"}
    | {"is", "are", "isn't", "was", "will", "would", "should", "can", "could", "do", "did", "have", "has", "don't"}
    | {"when", "if", "and", "or", "so", "then", "but", "maybe", "perhaps", "says", "think", "what", "why", "where"}
    | {"the", "that", "this", "next", "now", "done", "wait", "stop", "okay", "hello", "hey", "one", "two", "first"}
    | {"back", "leave", "skip", "nearly", "all", "right", "left", "up", "down", "on", "in", "out", "off", "a", "an"}
)


def is_name(text: str) -> bool:
    """Whether words can be somebody's name."""
    words = text.split()
    spelt = all(word.replace("-", "").replace("'", "").isalpha() and not word.endswith("'s") for word in words)
    return 0 < len(words) <= 2 and spelt and not _NO_NAME.intersection(words)
