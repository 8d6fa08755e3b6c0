"""Decision rules: how doubt in a reading is treated when it is judged (JCGM 106:2012, clause 8)."""

from decimal import Decimal
from typing import Any, Literal

from pydantic import GetJsonSchemaHandler, model_validator
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema

from benchvoice.procedure.fields import Number, Part
from benchvoice.quantity.verdict import SIMPLE, Rule, RuleKind

KindOfRule = Literal["simple acceptance", "guarded acceptance", "conformance probability"]
TIMES_U = " U"
"""Ends a guard band that is given in expanded uncertainties: 1 U, 0.5 U."""


def with_rule_of_limits(value: Any) -> Any:
    """A part whose limits may have been written with their rule among them: the rule beside them, where it belongs."""
    limits = value.get("limits") if isinstance(value, dict) else None
    if not isinstance(limits, dict) or "rule" not in limits:
        return value
    if "rule" in value:
        raise ValueError("two decision rules, in the limits and beside them; take one out")
    bare = {name: part for name, part in limits.items() if name != "rule"}
    return {**value, "limits": bare, "rule": limits["rule"]}


class DecisionRule(Part):
    """How doubt in a reading is treated.

    In a document: `simple acceptance`, the reading as taken decides; `guarded acceptance`, only what is in (or out)
    with one expanded uncertainty to spare is called so; {guard_band: 0.5 U} or {guard_band: 0.2}, with half of one, or
    with 0.2 in the unit of the limits; {probability: 95}, in (or out) where the probability of it is 95 per cent or
    more. What is neither is too close to call.
    """

    kind: KindOfRule
    guard: Number = Decimal(1)
    """Guard band in expanded uncertainties."""
    band: Number | None = None
    """Guard band in the unit of the limits, in place of `guard`."""
    per_cent: Number | None = None
    """Conformance probability asked."""

    @model_validator(mode="before")
    @classmethod
    def _short_forms(cls, value: Any) -> Any:
        if isinstance(value, str):
            if value == RuleKind.PROBABILITY:
                raise ValueError("how probable is not said; write {probability: 95}")
            return {"kind": value}
        if not isinstance(value, dict) or "kind" in value:
            return value
        if set(value) == {"guard_band"}:
            text = str(value["guard_band"]).strip()
            band = {"guard": text.removesuffix(TIMES_U)} if text.endswith(TIMES_U) else {"band": text}
            return {"kind": RuleKind.GUARDED.value, **band}
        if set(value) == {"probability"}:
            return {"kind": RuleKind.PROBABILITY.value, "per_cent": value["probability"]}
        raise ValueError("a decision rule is one of its forms; write guarded acceptance, guard_band or probability")

    @model_validator(mode="after")
    def _figures(self) -> "DecisionRule":
        if self.guard <= 0 or (self.band is not None and self.band <= 0):
            raise ValueError("a guard band of nothing guards nothing; write more, or simple acceptance")
        if self.per_cent is not None and not 50 < self.per_cent < 100:
            raise ValueError(f"a probability of {self.per_cent} per cent decides nothing; write 51 to 99, such as 95")
        return self

    @property
    def needs_uncertainty(self) -> bool:
        """Whether nothing can be judged by it without an uncertainty."""
        return self.kind != RuleKind.SIMPLE.value and self.band is None

    @property
    def weighs(self) -> bool:
        """Whether doubt counts at all: any rule but simple acceptance."""
        return self.kind != RuleKind.SIMPLE.value

    def rule(self) -> Rule:
        """The rule that judges."""
        if self.per_cent is not None:
            return Rule(kind=RuleKind.PROBABILITY, share=self.per_cent / 100)
        if self.weighs:
            return Rule(kind=RuleKind.GUARDED, guard=self.guard, band=self.band)
        return SIMPLE

    def words(self, unit: str) -> str:
        """The rule as the log and the record name it."""
        if self.per_cent is not None:
            return f"{self.kind}, {self.per_cent} %"
        if not self.weighs:
            return self.kind
        return f"{self.kind}, guard band {f'{self.guard} U' if self.band is None else f'{self.band} {unit}'}"

    @classmethod
    def __get_pydantic_json_schema__(cls, core: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        number = {"type": ["number", "string"]}
        forms: list[JsonSchemaValue] = [{"enum": [RuleKind.SIMPLE.value, RuleKind.GUARDED.value]}]
        forms += [
            {"type": "object", "properties": {name: number}, "required": [name], "additionalProperties": False}
            for name in ("guard_band", "probability")
        ]
        return {"description": " ".join((cls.__doc__ or "").split()), "anyOf": forms}
