"""A published value of each kind; all of them run with `python -m benchvoice.benchmarks published FILE`."""

from typing import Any

import pytest

from benchvoice.benchmarks.published.log import KINDS


@pytest.mark.parametrize(
    ("kind", "inputs", "expected"),
    [
        # RFC 3339 section 5.8
        (
            "rfc3339",
            {"text": "1990-12-31T15:59:60-08:00"},
            {"valid": True, "utc": "1990-12-31T23:59:60Z"},
        ),
        ("rfc3339", {"text": "2026-11-25T10:15:00"}, {"valid": False, "utc": None}),
        # FIPS 180-4: "abc", and a million times "a"
        ("sha256", {"text": "abc"}, {"hex": "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"}),
        (
            "sha256",
            {"text": "a", "repeat": 1_000_000},
            {"hex": "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0"},
        ),
        # RFC 8785 appendix B
        ("jcs", {"ieee754": "0000000000000001"}, {"canonical": "5e-324"}),
        ("jcs", {"ieee754": "444b1ae4d6e2ef50"}, {"canonical": "1e+21"}),
        ("jcs", {"ieee754": "becbf647612f3696"}, {"canonical": "-0.0000033333333333333333"}),
        (
            "jcs",
            {"json": '{"value":"1.50","unit":"mm"}'},
            {
                "canonical": '{"unit":"mm","value":"1.50"}',
                "sha256": "f1c186a95749ba0c26a97efdd7bc35cc6a4e219be79a3ca59793027194865b13",
            },
        ),
        # sha256sum over 64 zeros and the canonical entry, then over that digest and the next entry
        (
            "hash_chain",
            {"entries": [{"a": "1.50"}, {"a": "1.5"}]},
            {
                "chain": [
                    "8e1392756e293627ca63cba6505d6f13457048229946eace88567b8abc0c6870",
                    "112f22fc257ff1ecf7131585d773266ed59fcc872775f3f01e4cb67d21c2c736",
                ]
            },
        ),
    ],
)
def test_published(kind: str, inputs: dict[str, Any], expected: dict[str, Any]) -> None:
    assert KINDS[kind](inputs) == expected
