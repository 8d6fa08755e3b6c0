"""The graph, walked from its start: which words it can spell, at what cost."""

import heapq
import itertools

import numpy as np
import pytest

from benchvoice.ear.lexicon import OTHER, Lexicon, parse
from benchvoice.ear.pack import fst as f
from benchvoice.ear.pack.graph import Costs, Graph, any_word, build_graph, unknown_sounds
from benchvoice.ear.pack.phones import GARBAGE, PhoneTable, Topology

UNITS = ("<sil>", "AA", "EY", "N", "T", "W", "AH", GARBAGE)
TOPOLOGY = Topology(UNITS, "<sil>", {unit: (2 * k, 2 * k + 1) for k, unit in enumerate(UNITS)} | {"<sil>": (0, 0)})
PHONES = PhoneTable(TOPOLOGY)
LEXICON = parse("ate EY T\neight EY T\none W AH N\nwon W AH N\na AH\na EY\nwant W AA N T\n")
COSTS = Costs(
    word=1.0, loop=0.5, silence=0.125, garbage=6.0, filler=2.5, filler_tail=3.5, filler_length=3, background=2.0
)


@pytest.fixture(scope="module")
def graph() -> Graph:
    return build_graph(PHONES, LEXICON, COSTS)


def sounds_as_transitions(*words: str) -> list[tuple[int, ...]]:
    """The shortest transition-id strings of pronunciations given as "W AH N"."""
    found = []
    for word in words:
        sounds = word.split()
        places = ["_S"] if len(sounds) == 1 else ["_B", *["_I"] * (len(sounds) - 2), "_E"]
        found.append(tuple(PHONES.out(sound + place) for sound, place in zip(sounds, places, strict=True)))
    return found


def best(graph: Graph, transitions: tuple[int, ...]) -> dict[tuple[str, ...], float]:
    """Every word string that the transitions can be, with its least cost (Dijkstra over states, places and words)."""
    rows: dict[int, list[tuple[int, int, float, int]]] = {}
    for source, arc in zip(graph.fst.sources.tolist(), graph.fst.arcs.tolist(), strict=True):
        rows.setdefault(source, []).append(arc)
    found: dict[tuple[str, ...], float] = {}
    ticket = itertools.count()
    queue: list[tuple[float, int, int, int, tuple[str, ...]]] = [(0.0, next(ticket), graph.fst.start, 0, ())]
    seen: set[tuple[int, int, tuple[str, ...]]] = set()
    while queue:
        cost, _, state, at, words = heapq.heappop(queue)
        if (state, at, words) in seen:
            continue
        seen.add((state, at, words))
        if at == len(transitions) and np.isfinite(graph.fst.finals[state]):
            found.setdefault(words, cost)
        for taken, word, more, target in rows.get(state, []):
            further = (*words, graph.words[word]) if word else words
            if taken == 0:
                heapq.heappush(queue, (cost + more, next(ticket), target, at, further))
            elif at < len(transitions) and transitions[at] == taken:
                heapq.heappush(queue, (cost + more, next(ticket), target, at + 1, further))
    return found


def test_sounds_lead_to_their_words_and_homophones_to_both(graph: Graph) -> None:
    (eight, one, want) = sounds_as_transitions("EY T", "W AH N", "W AA N T")
    assert {words for words in best(graph, eight) if OTHER not in words} == {("ate",), ("eight",)}
    assert {words for words in best(graph, one) if OTHER not in words} == {("one",), ("won",)}
    assert best(graph, want)[("want",)] == pytest.approx(COSTS.word)


def test_a_single_sound_can_be_a_word(graph: Graph) -> None:
    (single,) = sounds_as_transitions("AH")
    assert best(graph, single) == {("a",): pytest.approx(COSTS.word)}


def test_half_a_word_is_none(graph: Graph) -> None:
    (one,) = sounds_as_transitions("W AH N")
    assert best(graph, one[:2]) == {}


def test_words_follow_one_another_with_or_without_silence(graph: Graph) -> None:
    one, eight = sounds_as_transitions("W AH N", "EY T")
    silence = (PHONES.out("SIL"), PHONES.loop("SIL"), PHONES.loop("SIL"))
    for between in ((), silence):
        assert ("one", "eight") in best(graph, one + between + eight)
    assert best(graph, silence) == {(): pytest.approx(3 * COSTS.silence)}


def test_staying_in_a_sound_costs_and_every_frame_of_silence(graph: Graph) -> None:
    (eight,) = sounds_as_transitions("EY T")
    longer = (eight[0], PHONES.loop("EY_B"), eight[1], PHONES.loop("T_E"), PHONES.out("SIL"), PHONES.loop("SIL"))
    assert best(graph, longer)[("eight",)] == pytest.approx(COSTS.word + 2 * COSTS.loop + 2 * COSTS.silence)


def test_any_sounds_are_something_else_and_dearer_when_long(graph: Graph) -> None:
    strange = sounds_as_transitions("T N", "T N T", "T N T N T N T")
    costs = [best(graph, sounds)[(OTHER,)] for sounds in strange]
    per = COSTS.filler
    assert costs[0] == pytest.approx(COSTS.word + 2 * per)
    assert costs[1] == pytest.approx(COSTS.word + 3 * per)
    # the third and later sounds after the first come from the last hub
    assert costs[2] == pytest.approx(COSTS.word + 7 * per + 4 * COSTS.filler_tail)


def test_a_word_of_the_lexicon_is_something_else_at_one_price_however_long(graph: Graph) -> None:
    eight, want, one_eight = sounds_as_transitions("EY T", "W AA N T", "W AH N EY T")
    assert best(graph, eight)[(OTHER,)] == pytest.approx(COSTS.word + COSTS.background)
    assert best(graph, want)[(OTHER,)] == pytest.approx(COSTS.word + COSTS.background)
    assert best(graph, one_eight)[(OTHER,)] > COSTS.word + 4 * COSTS.filler  # no word: only the filler has it


def test_words_that_end_alike_share_their_states_as_something_else() -> None:
    alike = parse("ant AA N T\nwant W AA N T\ntaunt T AA N T\n")
    alone = parse("want W AA N T\n")

    def states(lexicon: Lexicon) -> int:
        return len(build_graph(PHONES, lexicon, COSTS).fst.finals)

    # a first sound and its own tree each; what follows W and T as OTHER is made once, and "ant" begins with its own
    assert states(alike) - states(alone) <= 3 + 3 + 2


def test_garbage_is_something_else(graph: Graph) -> None:
    assert best(graph, (PHONES.out(GARBAGE + "_S"),)) == {(OTHER,): pytest.approx(COSTS.word + COSTS.garbage)}


def test_every_state_reaches_what_its_set_says(graph: Graph) -> None:
    """The look-ahead sets: first words over arcs without one, and the end where a final state can be reached so."""
    targets: dict[int, set[int]] = {}
    words: dict[int, set[int]] = {}
    for source, arc in zip(graph.fst.sources.tolist(), graph.fst.arcs, strict=True):
        if arc["output"]:
            words.setdefault(source, set()).add(int(arc["output"]))
        else:
            targets.setdefault(source, set()).add(int(arc["next"]))
    for state, intervals in enumerate(graph.reach):
        seen, waiting = {state}, [state]
        while waiting:
            fresh = targets.get(waiting.pop(), set()) - seen
            seen |= fresh
            waiting.extend(fresh)
        reached = set().union(*(words.get(each, set()) for each in seen))
        if any(np.isfinite(graph.fst.finals[each]) for each in seen):
            reached.add(graph.final_label)
        assert {label for begin, end in intervals for label in range(begin, end)} == reached


def test_arcs_stand_by_output_label(graph: Graph) -> None:
    assert f.properties(graph.fst) & f.OUTPUT_SORTED


def test_the_same_lexicon_gives_the_same_graph(graph: Graph) -> None:
    again = build_graph(PHONES, LEXICON, COSTS)
    assert f.lookahead_bytes(again.fst, again.reach, again.final_label) == f.lookahead_bytes(
        graph.fst, graph.reach, graph.final_label
    )


def test_sounds_that_the_net_lacks_are_named() -> None:
    lexicon: Lexicon = parse("zoo Z UW\ntwo T AH\nnoise SPN\n")
    assert list(unknown_sounds(PHONES, lexicon)) == [("zoo", "Z"), ("zoo", "UW"), ("noise", "SPN")]


def test_a_grammar_of_any_word_weighs_all_alike() -> None:
    grammar = any_word(3)
    assert grammar.arcs["input"].tolist() == grammar.arcs["output"].tolist() == [1, 2, 3]
    assert np.exp(-grammar.arcs["cost"]).sum() + np.exp(-grammar.finals[0]) == pytest.approx(1.0)


def test_costs_come_back_from_json_and_strange_ones_are_refused() -> None:
    assert Costs.from_json(COSTS.to_json()) == COSTS
    with pytest.raises(ValueError, match="nonsense"):
        Costs.from_json({"nonsense": 1.0})
