import pytest

from benchvoice.app.ears import lacking, model_folder
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
