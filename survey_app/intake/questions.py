"""The questions of the survey, once: all that asks, reads, prints, stores or archives an answer follows from this list.

A question says how it is answered, which letter stands for which answer on
paper, how people spell it, and where the answer lands. Its words are in
``texts/*/form.ftl``, the messages ``q-<key>``. To add one: an entry in
`QUESTIONS` where it is asked, its words in every language, a field of the same
name where it lands (`records`), and the field's column (a step in
``store/migrations``). Every question but the address may be left open, and
"not sure" is an answer everywhere.
"""

from __future__ import annotations

from survey_app.intake import spellings
from survey_app.intake.kinds import NO, YES, Choice, Kind, Lands, Question, Section
from survey_app.intake.spellings import WEEKDAYS, Spelled
from survey_app.records import DateEvidence, EndCause, HalfDay, HeaterKind, Place, ServiceKind, Symptom, Venting

__all__ = ["KEYS", "QUESTIONS", "question"]

QUESTIONS: tuple[Question, ...] = (
    Question(
        key="address",
        kind=Kind.TEXT,
        section=Section.HOME,
        required=True,
        headers=("street address", "property address", "home address", "house", "addr", "location", "situs", "home"),
        example="12 Sample Street",
    ),
    Question(
        key="kind",
        kind=Kind.CHOICE,
        section=Section.HEATER,
        lands=Lands.HEATER,
        choices=(
            Choice(HeaterKind.GAS_STORAGE, "g"),
            Choice(HeaterKind.ELECTRIC_STORAGE, "e"),
            Choice(HeaterKind.HEAT_PUMP_STORAGE, "h"),
            Choice(HeaterKind.TANKLESS, "t"),
            Choice(HeaterKind.UNKNOWN, "?"),
        ),
        spelled=spellings.HEATER_KIND,
        headers=("type", "heater type", "heater", "fuel", "kind of heater", "water heater type"),
        example="gas storage",
    ),
    Question(
        key="tank_gallons",
        kind=Kind.NUMBER,
        section=Section.HEATER,
        lands=Lands.HEATER,
        spelled=spellings.TANK_GALLONS,
        headers=("tank size", "gallons", "size", "capacity", "tank", "gal", "tank capacity"),
        example="50",
    ),
    Question(
        key="installed",
        kind=Kind.DATE,
        section=Section.AGE,
        lands=Lands.HEATER,
        headers=(
            "install date",
            "installation date",
            "date installed",
            "installed on",
            "year installed",
            "install year",
        ),
        example="about 2009",
    ),
    Question(
        key="installed_evidence",
        kind=Kind.CHOICE,
        section=Section.AGE,
        choices=(
            Choice(DateEvidence.DOCUMENT, "p"),
            Choice(DateEvidence.DATA_PLATE, "l"),
            Choice(DateEvidence.DATE_CODE, "c"),
            Choice(DateEvidence.HOUSE_COMPLETION, "h"),
            Choice(DateEvidence.MEMORY, "m"),
        ),
        spelled=spellings.EVIDENCE,
        headers=("evidence", "date evidence", "how known", "date source", "source of date"),
        example="memory",
    ),
    Question(
        key="date_code",
        kind=Kind.CODE,
        section=Section.AGE,
        headers=(
            "serial",
            "serial number",
            "serial no",
            "code",
            "datecode",
            "data plate code",
            "date code as printed",
        ),
    ),
    Question(
        key="warranty_years",
        kind=Kind.NUMBER,
        section=Section.AGE,
        lands=Lands.HEATER,
        spelled=spellings.WARRANTY_YEARS,
        headers=("warranty", "warranty term", "warranty (years)", "warranty length"),
        example="6",
    ),
    Question(
        key="warranty_end",
        kind=Kind.DATE,
        section=Section.AGE,
        lands=Lands.HEATER,
        may_be_future=True,
        one_day=True,
        never_is_open=True,
        headers=(
            "warranty ends",
            "warranty until",
            "warranty expires",
            "warranty expiration",
            "warranty end date",
        ),
    ),
    Question(
        key="place",
        kind=Kind.CHOICE,
        section=Section.AROUND,
        lands=Lands.HEATER,
        choices=(
            Choice(Place.GARAGE, "g"),
            Choice(Place.OUTSIDE, "o"),
            Choice(Place.BASEMENT, "b"),
            Choice(Place.CLOSET, "c"),
            Choice(Place.UPPER_FLOOR, "u"),
            Choice(Place.ATTIC, "a"),
            Choice(Place.OTHER, "s"),
            Choice(Place.UNKNOWN, "?"),
        ),
        spelled=spellings.PLACE,
        headers=("location of heater", "heater location", "where", "where it stands", "standing place"),
        example="garage",
    ),
    Question(
        key="venting",
        kind=Kind.CHOICE,
        section=Section.AROUND,
        lands=Lands.HEATER,
        choices=(
            Choice(Venting.METAL, "m"),
            Choice(Venting.PLASTIC, "p"),
            Choice(Venting.IN_A_PIPE, "w"),
            Choice(Venting.NONE, "n"),
            Choice(Venting.UNKNOWN, "?"),
        ),
        spelled=Spelled(
            answers={"none": Venting.NONE, "atmospheric": Venting.METAL, "natural draft": Venting.METAL},
            words=(
                ("direct vent", Venting.IN_A_PIPE),
                ("concentric", Venting.IN_A_PIPE),
                ("power vent", Venting.PLASTIC),
                ("plastic", Venting.PLASTIC),
                ("pvc", Venting.PLASTIC),
                ("metal", Venting.METAL),
                ("electric", Venting.NONE),
            ),
        ),
        headers=("vent", "vent type", "vent pipe", "flue"),
    ),
    Question(
        key="pan",
        kind=Kind.YES_NO,
        section=Section.AROUND,
        lands=Lands.HEATER,
        headers=("drain pan",),
        example="no",
    ),
    Question(
        key="leak_alarm",
        kind=Kind.YES_NO,
        section=Section.AROUND,
        lands=Lands.HEATER,
        headers=("alarm", "leak sensor", "leak detector"),
    ),
    Question(
        key="auto_shutoff",
        kind=Kind.YES_NO,
        section=Section.AROUND,
        lands=Lands.HEATER,
        headers=("shutoff", "automatic shutoff", "auto shut off", "shut off"),
    ),
    Question(
        key="softener",
        kind=Kind.YES_NO,
        section=Section.AROUND,
        lands=Lands.HOME,
        headers=("water softener", "soft water"),
    ),
    Question(
        key="expansion_tank",
        kind=Kind.YES_NO,
        section=Section.AROUND,
        lands=Lands.HEATER,
        headers=("exp tank", "expansion"),
    ),
    Question(
        key="last_flush",
        kind=Kind.DONE,
        section=Section.CARE,
        lands=Lands.ACT,
        act=ServiceKind.FLUSH,
        headers=("flush", "flushed", "last flushed", "flush date", "date of last flush"),
        example="never",
    ),
    Question(
        key="last_anode",
        kind=Kind.DONE,
        section=Section.CARE,
        lands=Lands.ACT,
        # A change where `anode_work` says so.
        act=ServiceKind.ANODE_CHECK,
        headers=("anode", "anode date", "last anode work", "anode rod", "date of last anode work"),
        example="never",
    ),
    Question(
        key="anode_work",
        kind=Kind.CHOICE,
        section=Section.CARE,
        choices=(Choice("checked", "c"), Choice("changed", "n")),
        spelled=spellings.ANODE_WORK,
        headers=("anode checked or changed", "anode action"),
    ),
    Question(
        key="relief_valve_test",
        kind=Kind.DONE,
        section=Section.CARE,
        lands=Lands.ACT,
        act=ServiceKind.RELIEF_VALVE_TEST,
        headers=("relief valve", "t&p test", "tp test", "t&p valve test", "valve test", "relief test"),
    ),
    Question(
        key="symptoms",
        kind=Kind.CHOICES,
        section=Section.TODAY,
        lands=Lands.HEATER,
        # Figures where several may be ticked, so that no word is taken for a row of them.
        choices=(
            Choice(Symptom.GAS_SMELL, "1"),
            Choice(Symptom.CARBON_MONOXIDE, "c"),
            Choice(Symptom.RELIEF_OPENED, "2"),
            Choice(Symptom.BAD_FLUE, "f"),
            Choice(Symptom.SAFETY_SWITCH, "3"),
            Choice(Symptom.LEAK, "4"),
            Choice(Symptom.RELIEF_DRIPS, "5"),
            Choice(Symptom.RUSTY_WATER, "6"),
            Choice(Symptom.RUMBLE, "7"),
            Choice(Symptom.SMELLY_WATER, "8"),
            Choice(Symptom.RUNS_OUT, "9"),
            Choice(Symptom.PILOT_OUT, "p"),
            Choice(Symptom.NO_HOT_WATER, "h"),
            Choice(Symptom.TOO_HOT, "t"),
            Choice("none", "0"),
        ),
        spelled=spellings.SYMPTOMS,
        headers=("symptoms today", "problems", "issues", "symptom", "anything wrong"),
        example="none",
    ),
    Question(
        key="heater_number",
        kind=Kind.CHOICE,
        section=Section.BEFORE,
        choices=(
            Choice("first", "1"),
            Choice("second", "2"),
            Choice("third or later", "3"),
            Choice("not sure", "?"),
        ),
        spelled=spellings.HEATER_NUMBER,
        headers=("first heater", "is it the first", "number of heater", "which heater", "first"),
        example="first",
    ),
    Question(
        key="previous_gone",
        kind=Kind.DATE,
        section=Section.BEFORE,
        never_is_open=True,
        headers=("previous removed", "old heater removed", "previous heater gone", "previous removed on"),
    ),
    Question(
        key="previous_end",
        kind=Kind.CHOICE,
        section=Section.BEFORE,
        choices=(
            Choice(EndCause.FAILED, "f"),
            Choice(EndCause.REPLACED, "r"),
            Choice(EndCause.CONVERTED, "k"),
            Choice(EndCause.UNKNOWN, "?"),
        ),
        spelled=spellings.PREVIOUS_END,
        headers=("previous end", "why replaced", "end cause", "reason replaced", "old heater failed"),
    ),
    Question(
        key="moved_in",
        kind=Kind.DATE,
        section=Section.BEFORE,
        lands=Lands.HOME,
        headers=("move in", "moved in on", "move-in date", "resident since", "living here since", "since"),
        example="2015",
    ),
    Question(
        key="flush_day",
        kind=Kind.INTEREST,
        section=Section.TOGETHER,
        lands=Lands.WISHES,
        headers=("flush day interest",),
        example="yes",
    ),
    Question(
        key="anode_day",
        kind=Kind.INTEREST,
        section=Section.TOGETHER,
        lands=Lands.WISHES,
        headers=("anode day interest",),
        example="maybe",
    ),
    Question(
        key="group_purchase",
        kind=Kind.INTEREST,
        section=Section.TOGETHER,
        lands=Lands.WISHES,
        headers=("purchase", "group buy", "joint purchase"),
    ),
    Question(
        key="weekdays",
        kind=Kind.CHOICES,
        section=Section.TOGETHER,
        lands=Lands.WISHES,
        choices=tuple(Choice(day, str(number)) for number, day in enumerate(WEEKDAYS, start=1)),
        spelled=spellings.DAYS_OF_THE_WEEK,
        headers=("days", "weekdays that suit", "best days", "available days"),
        example="tue;sat",
        minor=True,
    ),
    Question(
        key="half_day",
        kind=Kind.CHOICE,
        section=Section.TOGETHER,
        lands=Lands.WISHES,
        choices=(Choice(HalfDay.ANY, "e"), Choice(HalfDay.MORNING, "m"), Choice(HalfDay.AFTERNOON, "a")),
        spelled=spellings.HALF_DAY,
        headers=("morning or afternoon", "half day", "am or pm", "time of day"),
        example="either",
        minor=True,
    ),
    Question(
        key="consent",
        kind=Kind.YES_NO,
        section=Section.CONTACT,
        choices=(YES, NO),
        headers=("consented", "agrees", "permission", "agreement"),
        example="yes",
    ),
    Question(
        key="contact",
        kind=Kind.TEXT,
        section=Section.CONTACT,
        lands=Lands.WISHES,
        headers=("email", "e-mail", "phone", "telephone", "contact info", "phone or email"),
    ),
    Question(
        key="answered_on",
        kind=Kind.DATE,
        section=Section.CONTACT,
        one_day=True,
        of_resident=False,
        headers=(
            "date",
            "date answered",
            "answer date",
            "timestamp",
            "submitted",
            "submitted on",
            "survey date",
        ),
    ),
    Question(
        key="remarks",
        kind=Kind.TEXT,
        section=Section.CONTACT,
        lands=Lands.WISHES,
        headers=("comments", "comment", "notes", "note", "remark"),
    ),
)
"""Every question, in the order in which it is asked and stands in the template."""

KEYS = tuple(one.key for one in QUESTIONS)
_BY_KEY = {one.key: one for one in QUESTIONS}


def question(key: str) -> Question:
    """The question with a key.

    Raises
    ------
    KeyError
        When there is none; the message lists the keys there are.
    """
    try:
        return _BY_KEY[key]
    except KeyError:
        raise KeyError(f"There is no question {key!r}. Choose from: {', '.join(KEYS)}.") from None
