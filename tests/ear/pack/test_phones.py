import pytest

from benchvoice.ear.pack.kaldi import KaldiWriter
from benchvoice.ear.pack.phones import GARBAGE, PhoneTable, Place, Topology, write_transition_model

TOPOLOGY = Topology(
    ("<sil>", "AA", "B", GARBAGE), "<sil>", {"<sil>": (0, 0), "AA": (1, 2), "B": (3, 4), GARBAGE: (5, 6)}
)


def test_each_sound_has_four_phones_and_silence_one() -> None:
    phones = PhoneTable(TOPOLOGY)
    assert phones.names[:7] == ("<eps>", "SIL", "AA_B", "AA_E", "AA_I", "AA_S", "B_B")
    assert len(phones.boundaries) == len(phones.names) - 1 == 13
    assert phones.boundaries[:5] == ("nonword", "begin", "end", "internal", "singleton")


def test_all_phones_of_a_sound_share_its_outputs() -> None:
    phones = PhoneTable(TOPOLOGY)
    assert [phones.outputs(number) for number in (1, 2, 5, 6, 9, 13)] == [
        (0, 0),
        (1, 2),
        (1, 2),
        (3, 4),
        (3, 4),
        (5, 6),
    ]


def test_transitions_are_numbered_loop_then_out() -> None:
    phones = PhoneTable(TOPOLOGY)
    assert (phones.loop("SIL"), phones.out("SIL"), phones.loop("AA" + Place.BEGIN), phones.out("AA" + Place.BEGIN)) == (
        1,
        2,
        3,
        4,
    )
    assert phones.transitions == 26


def test_garbage_and_silence_spell_nothing() -> None:
    assert TOPOLOGY.sounds == ("AA", "B", GARBAGE)
    assert TOPOLOGY.spellable == {"AA", "B"}


def test_json_gives_the_topology_back() -> None:
    assert Topology.from_json(list(TOPOLOGY.units), TOPOLOGY.to_json()) == TOPOLOGY


def test_a_net_with_a_blank_is_refused() -> None:
    with pytest.raises(ValueError, match="LF-MMI"):
        Topology.from_json(["<blk>"], {"blank": "<blk>", "sil": "<blk>", "pdfs": {"<blk>": [0, 0]}})


def test_tuples_stand_in_order_with_their_outputs() -> None:
    out = KaldiWriter()
    write_transition_model(out, PhoneTable(TOPOLOGY))
    data = out.getvalue()
    tuples = data[data.index(b"<Tuples> ") + 9 : data.index(b"</Tuples>")]
    numbers = [int.from_bytes(tuples[k + 1 : k + 5], "little", signed=True) for k in range(0, len(tuples), 5)]
    assert numbers[0] == 13
    rows = [tuple(numbers[k : k + 4]) for k in range(1, len(numbers), 4)]
    assert rows == sorted(rows)
    assert rows[0] == (1, 0, 0, 0)
    assert rows[1] == (2, 0, 1, 2)
