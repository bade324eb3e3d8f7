"""What the rows of a bid sheet are called, and how people spell it."""

from __future__ import annotations

import re

from survey_app.intake import simplify
from survey_app.purchase.bids import StepKind
from survey_app.purchase.scope import SCOPE, SCOPE_KEYS
from survey_app.records import HeaterKind

__all__ = [
    "COLUMNS",
    "EXTRA",
    "HEATERS",
    "INCLUDED",
    "MEND_COLUMNS",
    "MISSING",
    "STEP",
    "STEP_KINDS",
    "TERMS",
    "column_of",
    "item_of",
]

COLUMNS = ("contractor", "item", "answer", "from homes", "price")
MEND_COLUMNS = ("row in file", "reason", "what to do")
STEP = "price step"

_HEADERS = {
    "contractor": ("contractor", "bidder", "company", "firm", "offered by", "vendor"),
    "item": ("item", "line", "what", "scope item", "term"),
    "answer": ("answer", "value", "included", "offered", "status"),
    "from homes": ("from homes", "from", "homes", "number of homes", "quantity", "qty", "from units", "step"),
    "price": ("price", "price usd", "usd", "amount", "price per home", "unit price", "cost", "extra"),
}
_HEADER_OF = {spelling: column for column, spellings in _HEADERS.items() for spelling in spellings}
_HEADER_OF |= {column: column for column in MEND_COLUMNS}

TERMS = {
    STEP: "The price a home from that number of homes on: fill in from homes and price, a row for each step.",
    "step kind": '"all units" (a step holds for every home) or "incremental" (only for the homes from there on).',
    "heater kinds": 'What the price is for: "gas storage, electric storage" (counted so where it is open), '
    '"heat pump storage" or "tankless". A price for another kind is a bid of its own: name the contractor '
    'with the kind, like "Contractor A (heat pump)".',
    "mobilization per day": "Price for each day the crew comes, whatever the number of homes.",
    "minimum homes per day": "The fewest homes the crew comes for.",
    "homes per day": "The most homes in a day.",
    "units per week": "The most heaters in a week.",
    "valid until": "The last day on which the bid can be accepted.",
    "labor warranty years": "Years of warranty on the labor.",
    "license number": "As on the license.",
    "license seen on": "The day somebody saw it in writing.",
    "insurance seen on": "The day somebody saw the certificate.",
    "insurance until": "The last day of the certificate.",
}
_ITEM_SPELLINGS = {
    "price": STEP,
    "price per home": STEP,
    "steps": STEP,
    "step": STEP,
    "price steps": STEP,
    "discount kind": "step kind",
    "kind of steps": "step kind",
    "heaters": "heater kinds",
    "heater kind": "heater kinds",
    "kind of heater": "heater kinds",
    "kinds of heater": "heater kinds",
    "mobilization": "mobilization per day",
    "mobilisation": "mobilization per day",
    "mobilization fee": "mobilization per day",
    "minimum per day": "minimum homes per day",
    "minimum": "minimum homes per day",
    "heaters per week": "units per week",
    "units a week": "units per week",
    "valid to": "valid until",
    "validity": "valid until",
    "expires": "valid until",
    "labor warranty": "labor warranty years",
    "labour warranty": "labor warranty years",
    "license": "license number",
    "licence number": "license number",
    "insurance ends": "insurance until",
    "labour": "labor",
    "heater": "tank",
    "water heater": "tank",
    "permit and inspection": "permit",
    "haul away of old heater": "haul away",
    "removal": "haul away",
    "pan": "drain pan",
    "tax": "sales tax",
    "connectors": "water connectors",
    "flue": "vent work",
    "venting": "vent work",
    "code": "code upgrades",
}
INCLUDED = {"included", "yes", "y", "incl", "in price", "in the price", "x", "ok"}
MISSING = {"missing", "no", "n", "not included", "excluded", "not offered", "by owner", "owner"}
EXTRA = {"extra", "extra at a price", "at extra cost", "option", "optional", "add", "added"}
STEP_KINDS = {
    "all units": StepKind.ALL_UNITS,
    "all": StepKind.ALL_UNITS,
    "all homes": StepKind.ALL_UNITS,
    "incremental": StepKind.INCREMENTAL,
    "only those above": StepKind.INCREMENTAL,
    "marginal": StepKind.INCREMENTAL,
}
HEATERS = {
    **{str(kind): (kind,) for kind in HeaterKind if kind is not HeaterKind.UNKNOWN},
    "gas": (HeaterKind.GAS_STORAGE,),
    "gas tank": (HeaterKind.GAS_STORAGE,),
    "electric": (HeaterKind.ELECTRIC_STORAGE,),
    "electric tank": (HeaterKind.ELECTRIC_STORAGE,),
    "heat pump": (HeaterKind.HEAT_PUMP_STORAGE,),
    "hybrid": (HeaterKind.HEAT_PUMP_STORAGE,),
    "tank": (HeaterKind.GAS_STORAGE, HeaterKind.ELECTRIC_STORAGE),
    "tanks": (HeaterKind.GAS_STORAGE, HeaterKind.ELECTRIC_STORAGE),
    "tankless gas": (HeaterKind.TANKLESS,),
    "on demand": (HeaterKind.TANKLESS,),
}
"""Kinds of heater that a bid's price is for, by how they are written."""


def column_of(cell: str) -> str | None:
    """The column that a header names; None when none."""
    return _HEADER_OF.get(re.sub(r"[^a-z]+", " ", simplify(cell)).strip())


def item_of(text: str) -> str:
    """The item a text names; "" when none."""
    word = simplify(text).replace("-", " ")
    if word in TERMS or word in SCOPE_KEYS:
        return word
    labels = {simplify(item.label): item.key for item in SCOPE}
    return _ITEM_SPELLINGS.get(word) or labels.get(word, "")
