"""How people spell the answers, as data: what an import understands beside the stored values and their labels.

What a kind of question shares (every yes or no) is found by the kind; what is
a question's own is named in its entry in `questions`. A new spelling is added
here or there, and needs no change in the reading.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from survey_app.records import DateEvidence, EndCause, HalfDay, HeaterKind, Place, Symptom

__all__ = [
    "ANODE_WORK",
    "CAME_WITH_THE_HOUSE",
    "DAYS_OF_THE_WEEK",
    "EVIDENCE",
    "HALF_DAY",
    "HEATER_KIND",
    "HEATER_NUMBER",
    "INTEREST",
    "NOT_SURE_WORDS",
    "PLACE",
    "PREVIOUS_END",
    "SYMPTOMS",
    "TANK_GALLONS",
    "WARRANTY_YEARS",
    "WEEKDAYS",
    "YES_NO",
    "Spelled",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Spelled:
    """Spellings of the answers to one question.

    Parameters
    ----------
    answers
        Whole answers, each with the stored value; "" leaves the question open.
    words
        Words that settle a choice when all of them occur in a longer answer; the first match counts.
    units
        Unit words behind a number, each with the factor to the stored unit.
    """

    answers: Mapping[str, str] = field(default_factory=dict)
    words: tuple[tuple[str, str], ...] = ()
    units: Mapping[str, float] = field(default_factory=dict)

    def __or__(self, own: Spelled) -> Spelled:
        """These spellings and a question's own, which go first."""
        return Spelled(
            answers={**self.answers, **own.answers}, words=own.words + self.words, units={**self.units, **own.units}
        )


NOT_SURE_WORDS = frozenset(
    """
    not sure|unsure|not certain|unknown|unk|idk|dk|dunno|i don't know|i dont know|don't know|dont know|do not know
    |i do not know|no idea|no clue|?|??|???|n/a|na|n.a.|-|--|tbd|can't tell|cant tell|cannot tell|i can't tell
    |not known|never checked|would have to look|not stated|none given|nan|null|unclear|have to check|need to check
    |no sé|no se|no lo sé|no se sabe|no estoy seguro|no estoy segura
    """.replace("\n", "")
    .replace("    ", "")
    .split("|")
)
"""Spellings of "not sure", understood by every choice and number."""

CAME_WITH_THE_HOUSE = frozenset(
    """
    original|the original|original one|came with the house|came with house|with the house|when the house was built
    |when house was built|same as house|same as the house|as old as the house|since the house was built|builder
    |new construction|original to the house|original equipment|house|house completion|when built|at construction
    """.replace("\n", "")
    .replace("    ", "")
    .split("|")
)
"""Answers to "when was it installed" that name the house instead of a date."""

_YES = (
    "y",
    "yes",
    "yeah",
    "yep",
    "yup",
    "true",
    "t",
    "1",
    "1.0",
    "x",
    "✓",
    "✔",
    "ja",
    "si",
    "sí",
    "have one",
    "ok",
    "sure",
)
_NO = ("n", "no", "nope", "nah", "false", "f", "0", "0.0", "none", "don't have one", "dont have one", "not present")
_TRI_WORDS = {**dict.fromkeys(_YES, "yes"), **dict.fromkeys(_NO, "no"), "maybe": "not sure", "possibly": "not sure"}
_TRI_KEYWORDS = (("not sure", "not sure"), ("yes", "yes"), ("no", "no"), ("y", "yes"), ("n", "no"), ("have", "yes"))
_MAYBE = (
    "maybe",
    "perhaps",
    "possibly",
    "depends",
    "it depends",
    "depends on price",
    "m",
    "if the price is right",
    "interested",
)
_INTEREST_WORDS = {**dict.fromkeys(_YES, "yes"), **dict.fromkeys(_NO, "no"), **dict.fromkeys(_MAYBE, "maybe")}
_INTEREST_WORDS["interested"] = "yes"

_INTEREST_KEYWORDS = (("not sure", "not sure"), ("maybe", "maybe"), ("yes", "yes"), ("no", "no"))
WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_YEARS = {"year": 1.0, "years": 1.0, "yr": 1.0, "yrs": 1.0, "y": 1.0, "month": 1 / 12, "months": 1 / 12, "mo": 1 / 12}
# 1 US liquid gallon is 3.785411784 liters exactly (NIST Handbook 44, Appendix C).
_GALLONS = {
    **dict.fromkeys(("gal", "gals", "gallon", "gallons", "g", "us gallons"), 1.0),
    **dict.fromkeys(("l", "liter", "liters", "litre", "litres", "lt"), 1 / 3.785411784),
}

YES_NO = Spelled(answers=_TRI_WORDS, words=_TRI_KEYWORDS)
INTEREST = Spelled(answers=_INTEREST_WORDS, words=_INTEREST_KEYWORDS)
HEATER_KIND = Spelled(
    answers={
        **dict.fromkeys(("g", "ng", "nat gas", "natural", "lp", "lpg"), HeaterKind.GAS_STORAGE),
        **dict.fromkeys(("e", "el", "elec", "elec.", "elect", "resistance"), HeaterKind.ELECTRIC_STORAGE),
        **dict.fromkeys(("hp", "hpwh", "hybrid", "hphw"), HeaterKind.HEAT_PUMP_STORAGE),
        **dict.fromkeys(("on demand", "on-demand", "instant", "instantaneous"), HeaterKind.TANKLESS),
        **dict.fromkeys(("tank", "storage", "other"), HeaterKind.UNKNOWN),
    },
    words=(
        ("tankless", HeaterKind.TANKLESS),
        ("no tank", HeaterKind.TANKLESS),
        ("on demand", HeaterKind.TANKLESS),
        ("instant", HeaterKind.TANKLESS),
        ("heat pump", HeaterKind.HEAT_PUMP_STORAGE),
        ("heatpump", HeaterKind.HEAT_PUMP_STORAGE),
        ("hybrid", HeaterKind.HEAT_PUMP_STORAGE),
        ("hpwh", HeaterKind.HEAT_PUMP_STORAGE),
        ("electric", HeaterKind.ELECTRIC_STORAGE),
        ("electrical", HeaterKind.ELECTRIC_STORAGE),
        ("elec", HeaterKind.ELECTRIC_STORAGE),
        ("gas", HeaterKind.GAS_STORAGE),
        ("propane", HeaterKind.GAS_STORAGE),
    ),
)
EVIDENCE = Spelled(
    answers={
        **dict.fromkeys(
            (
                "permit",
                "invoice",
                "receipt",
                "bill",
                "document",
                "paperwork",
                "papers",
                "documented",
                "records",
                "permit/invoice",
            ),
            DateEvidence.DOCUMENT,
        ),
        **dict.fromkeys(("plate", "label", "sticker", "dataplate", "data label", "nameplate"), DateEvidence.DATA_PLATE),
        **dict.fromkeys(("code", "serial", "serial number", "datecode", "serial no"), DateEvidence.DATE_CODE),
        **dict.fromkeys(
            ("house", "original", "came with the house", "builder", "house age", "completion", "new house"),
            DateEvidence.HOUSE_COMPLETION,
        ),
        **dict.fromkeys(("guess", "remember", "recollection", "recall", "estimate", "my memory"), DateEvidence.MEMORY),
    },
    words=(
        ("invoice", DateEvidence.DOCUMENT),
        ("receipt", DateEvidence.DOCUMENT),
        ("permit", DateEvidence.DOCUMENT),
        ("code", DateEvidence.DATE_CODE),
        ("serial", DateEvidence.DATE_CODE),
        ("plate", DateEvidence.DATA_PLATE),
        ("label", DateEvidence.DATA_PLATE),
        ("sticker", DateEvidence.DATA_PLATE),
        ("house", DateEvidence.HOUSE_COMPLETION),
        ("memory", DateEvidence.MEMORY),
        ("guess", DateEvidence.MEMORY),
        ("remember", DateEvidence.MEMORY),
    ),
)
WARRANTY_YEARS = Spelled(
    answers=dict.fromkeys(("lifetime", "life time", "life", "none", "no", "expired", "no warranty"), ""),
    units=_YEARS,
)
PLACE = Spelled(
    answers={
        **dict.fromkeys(("carport", "gar", "in garage"), Place.GARAGE),
        **dict.fromkeys(("exterior", "outdoors", "outdoor", "outside closet", "patio", "shed"), Place.OUTSIDE),
        **dict.fromkeys(("cellar", "crawl space", "crawlspace", "bsmt"), Place.BASEMENT),
        **dict.fromkeys(
            ("utility room", "laundry", "laundry room", "utility closet", "hall closet", "kitchen", "mechanical room"),
            Place.CLOSET,
        ),
        **dict.fromkeys(("upstairs", "second floor", "2nd floor", "upper level"), Place.UPPER_FLOOR),
        **dict.fromkeys(("loft", "roof space"), Place.ATTIC),
        **dict.fromkeys(("elsewhere", "somewhere else"), Place.OTHER),
    },
    words=(
        ("garage", Place.GARAGE),
        ("attic", Place.ATTIC),
        ("upstairs", Place.UPPER_FLOOR),
        ("upper", Place.UPPER_FLOOR),
        ("2nd", Place.UPPER_FLOOR),
        ("second", Place.UPPER_FLOOR),
        ("basement", Place.BASEMENT),
        ("crawl", Place.BASEMENT),
        ("outside", Place.OUTSIDE),
        ("exterior", Place.OUTSIDE),
        ("closet", Place.CLOSET),
        ("laundry", Place.CLOSET),
        ("utility", Place.CLOSET),
        ("room", Place.OTHER),
    ),
)
ANODE_WORK = Spelled(
    answers={
        **dict.fromkeys(("check", "inspected", "looked at", "inspection"), "checked"),
        **dict.fromkeys(("change", "replaced", "new", "new rod", "renewed", "replacement"), "changed"),
    },
    words=(("changed", "changed"), ("replaced", "changed"), ("new", "changed"), ("checked", "checked")),
)
SYMPTOMS = Spelled(
    answers={
        **dict.fromkeys(
            (
                "nothing",
                "no",
                "n",
                "ok",
                "fine",
                "all good",
                "no problems",
                "no issues",
                "nope",
                "good",
                "no symptoms",
                "nothing unusual",
            ),
            "none",
        ),
        **dict.fromkeys(("gas smell", "gas odor", "smells of gas", "gas leak", "gas detector"), Symptom.GAS_SMELL),
        **dict.fromkeys(("co", "co alarm", "carbon monoxide", "carbon monoxide alarm"), Symptom.CARBON_MONOXIDE),
        **dict.fromkeys(("soot", "scorch marks", "loose flue", "bad flue", "flue loose"), Symptom.BAD_FLUE),
        **dict.fromkeys(("too hot", "water too hot", "scalding", "far too hot"), Symptom.TOO_HOT),
        **dict.fromkeys(("t&p opened", "relief valve opened", "relief opened"), Symptom.RELIEF_OPENED),
        **dict.fromkeys(("safety switch", "switch tripped", "burner switch"), Symptom.SAFETY_SWITCH),
        **dict.fromkeys(("leak", "leaks", "leaking", "water", "puddle", "wet floor", "water on floor"), Symptom.LEAK),
        **dict.fromkeys(
            ("relief valve dripping", "t&p drips", "t&p dripping", "dripping relief valve", "valve drips", "dripping"),
            Symptom.RELIEF_DRIPS,
        ),
        **dict.fromkeys(("rust", "rusty", "rusty water", "brown water", "red water"), Symptom.RUSTY_WATER),
        **dict.fromkeys(
            ("rumble", "rumbles", "rumbling", "popping", "noise", "noisy", "noises", "banging", "knocking"),
            Symptom.RUMBLE,
        ),
        **dict.fromkeys(
            ("smelly", "smell", "rotten eggs", "smelly water", "water smells", "odor"), Symptom.SMELLY_WATER
        ),
        **dict.fromkeys(("runs out", "not enough hot water", "runs cold", "hot water runs out"), Symptom.RUNS_OUT),
        **dict.fromkeys(("pilot", "pilot out", "pilot goes out"), Symptom.PILOT_OUT),
        **dict.fromkeys(("cold", "cold water", "no heat", "not heating"), Symptom.NO_HOT_WATER),
    },
    words=(
        ("gas smell", Symptom.GAS_SMELL),
        ("smell gas", Symptom.GAS_SMELL),
        ("carbon monoxide", Symptom.CARBON_MONOXIDE),
        ("soot", Symptom.BAD_FLUE),
        ("flue", Symptom.BAD_FLUE),
        ("too hot", Symptom.TOO_HOT),
        ("relief open", Symptom.RELIEF_OPENED),
        ("relief opened", Symptom.RELIEF_OPENED),
        ("safety tripped", Symptom.SAFETY_SWITCH),
        ("relief drips", Symptom.RELIEF_DRIPS),
        ("relief dripping", Symptom.RELIEF_DRIPS),
        ("rusty", Symptom.RUSTY_WATER),
        ("rumbling", Symptom.RUMBLE),
        ("noises", Symptom.RUMBLE),
        ("noise", Symptom.RUMBLE),
        ("popping", Symptom.RUMBLE),
        ("pilot", Symptom.PILOT_OUT),
        ("leaking", Symptom.LEAK),
        ("leak", Symptom.LEAK),
        ("water smells", Symptom.SMELLY_WATER),
        ("runs out", Symptom.RUNS_OUT),
        ("no hot water", Symptom.NO_HOT_WATER),
    ),
)
HEATER_NUMBER = Spelled(
    answers={
        **dict.fromkeys(
            ("1", "1.0", "1st", "original", "yes", "y", "one", "builder's", "came with the house"), "first"
        ),
        **dict.fromkeys(("2", "2.0", "2nd", "two"), "second"),
        **dict.fromkeys(
            (
                "3",
                "3.0",
                "3rd",
                "4",
                "4.0",
                "4th",
                "5",
                "5th",
                "third",
                "fourth",
                "fifth",
                "three",
                "3+",
                "later",
                "third+",
            ),
            "third or later",
        ),
        # "no" says that there was one before, not which number this is.
        **dict.fromkeys(("no", "n", "not the first", "replaced"), "not sure"),
    },
    words=(
        ("not", "not sure"),
        ("first", "first"),
        ("second", "second"),
        ("third", "third or later"),
        ("later", "third or later"),
        ("original", "first"),
    ),
)
PREVIOUS_END = Spelled(
    answers={
        **dict.fromkeys(
            ("leaked", "leak", "broke", "died", "burst", "failure", "fail", "rusted through", "f"), EndCause.FAILED
        ),
        **dict.fromkeys(
            (
                "replaced",
                "replaced before it failed",
                "preventive",
                "preventively",
                "still working",
                "upgrade",
                "upgraded",
                "worked",
                "planned",
                "r",
            ),
            EndCause.REPLACED,
        ),
        **dict.fromkeys(("changed to tankless", "went tankless", "conversion", "switched"), EndCause.CONVERTED),
    },
    words=(
        ("before", EndCause.REPLACED),
        ("working", EndCause.REPLACED),
        ("leaked", EndCause.FAILED),
        ("leaking", EndCause.FAILED),
        ("failed", EndCause.FAILED),
        ("broke", EndCause.FAILED),
        ("died", EndCause.FAILED),
        ("converted", EndCause.CONVERTED),
        ("tankless", EndCause.CONVERTED),
        ("replaced", EndCause.REPLACED),
    ),
)
DAYS_OF_THE_WEEK = Spelled(
    answers={
        **dict.fromkeys(("m", "mo", "mondays"), "mon"),
        **dict.fromkeys(("tu", "tues", "tuesdays"), "tue"),
        **dict.fromkeys(("w", "we", "weds", "wednesdays"), "wed"),
        **dict.fromkeys(("th", "thur", "thurs", "thursdays"), "thu"),
        **dict.fromkeys(("f", "fr", "fridays"), "fri"),
        **dict.fromkeys(("sa", "saturdays"), "sat"),
        **dict.fromkeys(("su", "sundays"), "sun"),
        **dict.fromkeys(
            ("any", "any day", "anytime", "all", "every day", "whenever", "daily", "mon-sun"), ";".join(WEEKDAYS)
        ),
        **dict.fromkeys(
            ("weekdays", "weekday", "mon-fri", "m-f", "mon to fri", "monday-friday"), "mon;tue;wed;thu;fri"
        ),
        **dict.fromkeys(("weekend", "weekends", "sat-sun"), "sat;sun"),
        **dict.fromkeys(("none", "no", "never"), ""),
    },
)
HALF_DAY = Spelled(
    answers={
        **dict.fromkeys(("any", "any time", "anytime", "both", "all day", "whenever", "no preference"), HalfDay.ANY),
        **dict.fromkeys(("am", "a.m.", "mornings", "before noon", "forenoon"), HalfDay.MORNING),
        **dict.fromkeys(("pm", "p.m.", "afternoons", "after noon", "after lunch"), HalfDay.AFTERNOON),
    },
)
TANK_GALLONS = Spelled(units=_GALLONS)
