import pytest

from benchvoice.ear.espeak import SOUNDS, spelled, to_sounds
from benchvoice.ear.lexicon import read
from benchvoice.ear.pack.directory import Packed


@pytest.mark.parametrize(
    ("phonemes", "sounds"),
    [
        ("k_ɹ_ˈæ_ŋ_k_ʃ_æ_f_t", "K R AE NG K SH AE F T"),
        ("tʃ_ˈæ_m_f_ɚ", "CH AE M F ER"),
        ("ˌɑː_p_ɚ_ɹ_ˈeɪ_ʃ_ə_n", "AA P ER EY SH AH N"),
        ("v_ˈɛ_ɹ_ɪ", "V EH R IY"),
        ("b_ˈɒ_t_əl", "B AO T AH L"),
    ],
)
def test_phonetic_letters_become_sounds(phonemes: str, sounds: str) -> None:
    assert to_sounds(phonemes) == tuple(sounds.split())


def test_an_unknown_letter_gives_nothing_rather_than_a_guess() -> None:
    assert to_sounds("b_ʘ_t") is None


def test_american_comes_first_and_british_after() -> None:
    assert spelled(["impeller", "notchy"]) == {
        "impeller": (("IH", "M", "P", "EH", "L", "ER"), ("IH", "M", "P", "EH", "L", "AH")),
        "notchy": (("N", "AA", "CH", "IY"), ("N", "AO", "CH", "IY")),
    }


def test_nothing_asked_starts_nothing() -> None:
    assert spelled([]) == {}


def test_the_table_gives_only_sounds_that_the_shipped_model_has(shipped) -> None:
    known = Packed.read(shipped).topology.spellable
    assert {sound for sounds in SOUNDS.values() for sound in sounds} <= known


def test_spelling_agrees_with_the_lexicon_on_common_words(shipped) -> None:
    """Most words of a plain list come out exactly as some line of the lexicon says them (measured: 19 of 24)."""
    words = [
        "bearing",
        "bolt",
        "bracket",
        "camshaft",
        "chain",
        "cylinder",
        "engine",
        "exhaust",
        "gasket",
        "hammer",
        "housing",
        "key",
    ]
    words += [
        "piston",
        "plug",
        "pump",
        "radiator",
        "seal",
        "shim",
        "socket",
        "spring",
        "thread",
        "valve",
        "washer",
        "wheel",
    ]
    lexicon, found = read(shipped / "lexicon.txt"), spelled(words)
    same = [word for word in words if set(found[word]) & set(lexicon[word])]
    assert len(same) >= 17
