"""Exact quantities: units, limits and verdicts, uncertainty, values computed from readings, fits, stock to choose from.

Everything here is a pure function over ``Decimal``, ``Fraction`` and small frozen dataclasses. Nothing in this room
knows of documents, sessions, speech or files. Values that are stored stay as they were said; conversions and
computed values are for comparing, showing and speaking.
"""
