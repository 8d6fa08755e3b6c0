import pytest

from benchvoice.app.ears import Lookalikes, lacking, model_folder
from benchvoice.ear.integrity import check_sums
from benchvoice.ear.layout import ModelError


def test_a_model_is_found_by_the_hash_that_a_log_gives() -> None:
    shipped = model_folder()
    assert model_folder(check_sums(shipped)) == shipped.absolute()


def test_a_hash_that_no_model_has_is_told() -> None:
    with pytest.raises(ModelError, match=r"The speech model 0{12}… isn't here: resume the build"):
        model_folder("0" * 64)


def test_words_are_known_or_learnt_or_never_heard() -> None:
    found = lacking(["done", "flonkhurst", "7b"], model_folder())
    assert (found.learnt, found.unheard) == (("flonkhurst",), ("7b",))


def test_answers_like_one_another_or_like_a_command_are_told() -> None:
    ear = Lookalikes(model_folder())
    assert ear.confused(["worn", "warm", "cracked"]) == [("worn", "warm")]
    assert ("dun", "done") in ear.confused(["dun", "flat"])
    assert ear.confused(["five", "nine", "ten"]) == []


def test_words_that_the_model_lacks_are_judged_by_their_spelling_or_as_told() -> None:
    assert Lookalikes(model_folder()).confused(["flonkhurst", "flonkhirst"]) == [("flonkhurst", "flonkhirst")]
    told = {"flonkhurst": ["F L AA NG K"], "flonkhirst": ["HH ER S T"]}
    assert Lookalikes(model_folder(), told).confused(["flonkhurst", "flonkhirst"]) == []
