import itertools

from hypothesis import given
from hypothesis import strategies as st

from benchvoice.ear.lexicon import OTHER
from benchvoice.ear.pack.tree import Branch, joined, plant

SOUNDS = st.lists(st.sampled_from("ABCD"), min_size=1, max_size=4).map(tuple)
LEXICONS = st.dictionaries(
    st.text("xyz", min_size=1, max_size=4),
    st.lists(SOUNDS, min_size=1, max_size=3, unique=True).map(tuple),
    min_size=1,
    max_size=12,
)


def labels_in(branch: Branch, labels: dict[str, int]) -> set[int]:
    below = {labels[word] for _, word in branch.endings}
    return below.union(*(labels_in(child, labels) for child in branch.branches.values()))


def branches(branch: Branch) -> list[Branch]:
    return [branch, *(each for child in branch.branches.values() for each in branches(child))]


@given(LEXICONS)
def test_every_branch_knows_just_the_words_below_it(lexicon: dict[str, tuple[tuple[str, ...], ...]]) -> None:
    tree = plant(lexicon)
    for branch in branches(tree.root):
        reached = {label for begin, end in branch.reach for label in range(begin, end)}
        below = labels_in(branch, tree.labels)
        assert reached == below
        assert branch.only == (next(w for w, n in tree.labels.items() if n in below) if len(below) == 1 else None)


@given(LEXICONS)
def test_labels_count_all_words_from_one_and_other_last(lexicon: dict[str, tuple[tuple[str, ...], ...]]) -> None:
    tree = plant(lexicon)
    assert set(tree.labels) == {*lexicon, OTHER}
    assert list(tree.labels.values()) == list(range(1, len(tree.labels) + 1))
    assert list(tree.labels)[-1] == OTHER
    assert tree.final_label == len(tree.labels) + 1


@given(LEXICONS)
def test_every_pronunciation_can_be_followed(lexicon: dict[str, tuple[tuple[str, ...], ...]]) -> None:
    tree = plant(lexicon)
    for word, pronunciations in lexicon.items():
        for sounds in pronunciations:
            if len(sounds) == 1:
                assert (sounds[0], word) in tree.singles
                continue
            branch = tree.root
            for sound in sounds[:-1]:
                branch = branch.branches[sound]
            assert (sounds[-1], word) in branch.endings


def test_words_below_a_branch_are_one_range() -> None:
    tree = plant({"ten": (("T", "EH", "N"),), "nine": (("N", "AY", "N"),), "tenth": (("T", "EH", "N", "TH"),)})
    assert len(tree.root.branches["T"].reach) == 1


@given(st.lists(st.tuples(st.integers(0, 30), st.integers(1, 6)).map(lambda pair: (pair[0], pair[0] + pair[1]))))
def test_joined_ranges_hold_the_same_labels_and_never_touch(pairs: list[tuple[int, int]]) -> None:
    result = joined(pairs)
    assert {n for a, b in result for n in range(a, b)} == {n for a, b in pairs for n in range(a, b)}
    assert all(one[1] < two[0] for one, two in itertools.pairwise(result))
