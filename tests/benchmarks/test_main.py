import pytest

from benchvoice.benchmarks.__main__ import BENCHMARKS, main


@pytest.mark.parametrize(
    ("arguments", "words"),
    [([], "say which benchmark: use one of "), (["speed"], "there is no benchmark 'speed': use one of ")],
)
def test_a_name_missing_gets_one_sentence(arguments, words, capsys):
    assert main(arguments) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err.startswith(words)
    assert told.err.count("\n") == 1
    assert all(line in told.err for line in BENCHMARKS.values())


def test_arguments_are_handed_on(capsys):
    assert main(["published"]) == 2
    assert capsys.readouterr().err == "say which file of cases to run: published FILE.json\n"


def test_a_benchmark_that_is_not_installed(capsys, monkeypatch):
    monkeypatch.setattr("benchvoice.benchmarks.__main__.BENCHMARKS", {"nothing": "nothing: none"})
    assert main(["nothing"]) == 2
    assert capsys.readouterr().err == "the benchmark 'nothing' is not part of this installation\n"
