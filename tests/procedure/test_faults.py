"""Faults in words, and the nearest name."""

from benchvoice.errors import DocumentError
from benchvoice.procedure.faults import MOST_TOLD, DocumentFaults, Fault, listed, nearest


def test_a_fault_is_one_line() -> None:
    assert str(Fault("f.yaml", 3, "steps.a", "no unit", "add it")) == "f.yaml:3: steps.a: no unit; add it"


def test_what_was_written_over_several_lines_is_told_on_one() -> None:
    assert str(Fault("f", 1, "steps.two\nlines", "'a\n b' is no unit", "add it")) == (
        "f:1: steps.two lines: 'a b' is no unit; add it"
    )


def test_faults_are_told_in_the_order_of_the_file() -> None:
    later, earlier = Fault("f", 10, "b", "x", "y"), Fault("f", 9, "a", "x", "y")
    error = DocumentFaults([later, earlier])
    assert error.faults == (earlier, later)
    assert isinstance(error, DocumentError)


def test_more_than_can_be_read_are_counted() -> None:
    error = DocumentFaults(Fault("f", line, "a", "x", "y") for line in range(MOST_TOLD + 7))
    assert len(error.faults) == MOST_TOLD + 7
    assert str(error).splitlines()[-1] == "f: 7 more faults; mend these first"
    assert len(str(error).splitlines()) == MOST_TOLD + 1


def test_the_nearest_name() -> None:
    assert nearest("calliper", ["caliper", "gauge"]) == "did you mean caliper?"
    assert nearest("Caliper", ["caliper"]) == "did you mean caliper?"
    assert nearest("zzz", ["caliper", "gauge"]) == "write one of caliper, gauge"
    assert nearest("zzz", []) == "there is none yet; add it first"


def test_names_in_a_row_are_cut_off() -> None:
    assert listed(["a", "b"]) == "a, b"
    assert listed(list("abcde"), 3) == "a, b, c and 2 more"
