import json
from datetime import UTC, datetime, timedelta
from decimal import Decimal

import pytest
import rfc8785
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from benchvoice.log.line import (
    ENVELOPE,
    FIRST_PREV,
    BadLine,
    EntryRefused,
    Stamped,
    canonical,
    decimal_text,
    decode,
    digest,
    encode,
)
from benchvoice.session.entries import ENTRY_MODELS, Closed, Entry, Finding, Heard, Verdict, Word

from .samples import DECIMALS, STAMPED, START, stamp, turn


def test_no_kind_of_entry_has_a_field_that_the_envelope_uses() -> None:
    taken = {kind: set(model.model_fields) & set(ENVELOPE) for kind, model in ENTRY_MODELS.items()}
    assert not {kind: names for kind, names in taken.items() if names}


def test_a_line_as_it_is_written() -> None:
    finding = Finding(text="scored journal on two", step="look")
    at = datetime(2026, 11, 25, 11, 15, 0, 250_999, tzinfo=UTC)
    raw = encode(Stamped(at, Decimal("12.031"), "b00t", "ann", finding), 7, FIRST_PREV)
    assert raw.decode() == (
        '{"at":"2026-11-25T11:15:00.250Z","boot":"b00t","by":"ann","clip":null,"elapsed":"12.031","kind":"finding",'
        '"left_over":null,"n":7,"prev":"' + "0" * 64 + '",'
        '"step":"look","text":"scored journal on two","what":"finding"}'
    )


@given(STAMPED, st.integers(1, 10**6))
def test_any_entry_reads_back_as_it_was(stamped: Stamped, n: int) -> None:
    line = decode(encode(stamped, n, FIRST_PREV))
    assert (line.stamped, line.n, line.prev) == (stamped, n, FIRST_PREV)
    assert type(line.entry) is type(stamped.entry)
    # Decimal("1.50") == Decimal("1.5"): equality alone would not see a lost zero.
    assert line.entry.model_dump_json() == stamped.entry.model_dump_json()
    assert encode(line.stamped, n, FIRST_PREV) == line.raw


@given(STAMPED)
def test_a_line_is_canonical_json_by_rfc_8785(stamped: Stamped) -> None:
    raw = encode(stamped, 1, FIRST_PREV)
    assert raw == rfc8785.dumps(json.loads(raw))


@given(st.text(), st.sampled_from(["text", "words"]))
def test_every_character_is_escaped_as_rfc_8785_says(text: str, where: str) -> None:
    entry = Finding(text=text) if where == "text" else Heard(text="", understood="", words=(Word(word=text),))
    try:
        expected = rfc8785.dumps(text)
    except rfc8785.CanonicalizationError:
        with pytest.raises(EntryRefused):
            encode(stamp(entry), 1, FIRST_PREV)
    else:
        assert expected in encode(stamp(entry), 1, FIRST_PREV)


@given(DECIMALS)
def test_a_number_keeps_its_decimals(value: Decimal) -> None:
    text = decimal_text(value)
    assert Decimal(text).as_tuple() == value.as_tuple()
    assert "e" not in text.lower()


@given(st.decimals())
def test_any_number_reads_back_or_is_refused(value: Decimal) -> None:
    try:
        text = decimal_text(value)
    except ValueError:
        assert not value.is_finite() or len(format(value, "f")) > 50
    else:
        assert Decimal(text) == value
        assert decimal_text(Decimal(text)) == text


@pytest.mark.parametrize(
    ("value", "text"), [("1.50", "1.50"), ("1E+2", "100"), ("-0.0", "-0.0"), ("0E-7", "0.0000000")]
)
def test_numbers_are_plain_text(value: str, text: str) -> None:
    assert decimal_text(Decimal(value)) == text


@pytest.mark.parametrize("value", ["NaN", "Infinity", "1E+999999999", "1E-999999999", "1E+60", "1E-60", "9" * 61])
def test_what_is_no_number_for_a_log_is_refused(value: str) -> None:
    with pytest.raises(ValueError, match="no number for a log"):
        decimal_text(Decimal(value))


def test_the_stamp_is_cut_to_what_the_log_keeps() -> None:
    late = START + timedelta(microseconds=1999)
    assert Stamped(late, Decimal(0), "b", None, Closed()).at == START + timedelta(milliseconds=1)


def _raw(**changes: object) -> bytes:
    """A reading's line with some of its facts changed; written canonically."""
    facts = json.loads(encode(turn(0)[1], 2, FIRST_PREV))
    facts.update(changes)
    return canonical({name: value for name, value in facts.items() if value is not ...})


@pytest.mark.parametrize(
    ("raw", "what"),
    [
        (b"", "no JSON"),
        (b"\x00\x00", "no JSON"),
        (b"\xff", "no JSON"),
        (b"[" * 100_000, "no JSON"),
        (b"[]", "no JSON object"),
        (b"7", "no JSON object"),
        (_raw(n=...), "no number n"),
        (_raw(n=True), "no number n"),
        (_raw(n="2"), "no number n"),
        (_raw(prev=None), "no number n or no prev"),
        (_raw(kind="miracle"), "doesn't know .*miracle"),
        (_raw(kind=["reading"]), "doesn't know"),
        (_raw(value="much"), "no reading entry: value"),
        (_raw(step=...), "no reading entry: step"),
        (_raw(colour="red"), "no reading entry: colour"),
        (_raw(value="NaN"), "no reading entry: value"),
        (_raw(value="1_0"), "not written as the log writes it"),
        (_raw(value=" 1 "), "not written as the log writes it"),
        (_raw(value="١"), "not written as the log writes it"),
        (_raw(value="1E1"), "not written as the log writes it"),
        (_raw(value="1E+999999999"), "holds what no log holds"),
        (_raw(value=1.5), "not written as the log writes it"),
        (_raw(confirmed=1), "not written as the log writes it"),
        (_raw(at="2026-11-25T10:15:00Z"), "not written as the log writes it"),
        (_raw(at="2026-11-25 10:15"), "no time"),
        (_raw(at=7), "no time"),
        (_raw(elapsed="-1"), "no usable elapsed"),
        (_raw(elapsed=1), "no usable elapsed"),
        (_raw(boot=""), "no usable boot"),
        (_raw(by=7), "person"),
        (_raw() + b" ", "not written as the log writes it"),
        (_raw().replace(b'"n":2', b'"n":2,"n":2'), "not written as the log writes it"),
        (_raw().decode().encode("utf-16"), "not written as the log writes it"),
    ],
)
def test_what_is_no_line_is_refused(raw: bytes, what: str) -> None:
    with pytest.raises(BadLine, match=what):
        decode(raw)


def test_a_line_from_before_a_kind_grew_a_field_is_read() -> None:
    line = decode(_raw(confidence=..., counts_as=...))
    assert line.entry == turn(0)[1].entry


@given(st.binary(max_size=200))
def test_any_bytes_are_a_line_or_refused(raw: bytes) -> None:
    with pytest.raises(BadLine):
        decode(raw)


@pytest.mark.parametrize(
    "stamped",
    [
        stamp(Finding(text="\ud800")),
        stamp(Entry(kind="finding")),
        stamp(Verdict(step="s", reading=2**53, outcome="over", low=None, high=None, unit="mm")),
    ],
)
def test_what_could_not_be_read_back_is_not_written(stamped: Stamped) -> None:
    with pytest.raises(EntryRefused):
        encode(stamped, 1, FIRST_PREV)


@pytest.mark.parametrize(
    ("at", "elapsed", "boot", "what"),
    [
        (START.replace(tzinfo=None), "1", "b", "time without a zone"),
        (START, "-1", "b", "no usable elapsed"),
        (START, "NaN", "b", "no usable elapsed"),
        (START, "1", "two words", "no usable boot"),
        (START, "1", "", "no usable boot"),
        (START, "1", "b" * 65, "no usable boot"),
    ],
)
def test_a_stamp_is_good_or_refused(at: datetime, elapsed: str, boot: str, what: str) -> None:
    with pytest.raises(ValueError, match=what):
        Stamped(at, Decimal(elapsed), boot, None, Closed())


def test_entries_refuse_fields_they_do_not_have() -> None:
    with pytest.raises(ValidationError):
        Finding(text="x", n=3)  # type: ignore[call-arg]


@pytest.mark.parametrize(
    ("text", "sha256"),
    [  # FIPS 180-4, the examples of NIST
        ("abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"),
        ("", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"),
    ],
)
def test_digest(text: str, sha256: str) -> None:
    assert digest(text.encode()) == sha256


def test_canonical_json_of_rfc_8785_section_3_2() -> None:
    facts = json.loads(
        '{"numbers":[333333333.33333329,1E30,4.50,2e-3,0.000000000000000000000000001],'
        '"string":"\\u20ac$\\u000F\\u000aA\'\\u0042\\u0022\\u005c\\\\\\"\\/","literals":[null,true,false]}'
    )
    assert canonical(facts).decode() == (
        '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],'
        '"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}'
    )
