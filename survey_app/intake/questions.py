"""The questions of the survey, once: the form, the template, the paper form, the import and the docs read this list.

To add a question, add it to `QUESTIONS` in the place where it is asked, a
field of the same name to `Content`, and what it leads to in `to_history`; the
spellings that an import understands are data in `spellings`. Every question
but the address may be left open, and "not sure" is an answer everywhere.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from survey_app.intake.spellings import WEEKDAYS
from survey_app.records import DateEvidence, EndCause, HalfDay, HeaterKind, Interest, Place, Symptom, Tri

__all__ = [
    "KEYS",
    "QUESTIONS",
    "SECTIONS",
    "WEEKDAYS",
    "Choice",
    "Question",
    "Section",
    "Widget",
    "question",
]


class Widget(StrEnum):
    """How a question is answered."""

    CHOICE = "choice"
    CHOICES = "choices"
    DATE = "date"
    NUMBER = "number"
    TEXT = "text"
    CODE = "code"


class Section(StrEnum):
    """The parts of the form, in order."""

    HOME = "Your home"
    HEATER = "Your water heater"
    AGE = "How old it is"
    AROUND = "Where it stands and what is around it"
    CARE = "What has been done to it"
    TODAY = "How it is today"
    BEFORE = "The heaters before it"
    TOGETHER = "Doing things together"
    CONTACT = "You"


SECTIONS = tuple(Section)


@dataclass(frozen=True, slots=True)
class Choice:
    """One answer to choose: the stored value, and the label a person reads."""

    value: str
    label: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One question, as data.

    Parameters
    ----------
    key
        Its name in an answer's ``given`` and as a column of the import.
    section, text, help
        Where it is asked, the question itself, and a line of help.
    widget
        How it is answered.
    choices
        For choice widgets, the answers in order.
    example
        What the template's example row shows.
    required
        Whether it must be answered (the address alone).
    of_resident
        Whether the resident is asked; if not, only the volunteer or the import gives it.
    never
        For dates, whether "never" is an answer.
    may_be_future
        For dates, whether the day may lie ahead.
    minor
        Whether an answer that cannot be read is only noted, since nothing rests on it.
    """

    key: str
    section: Section
    text: str
    help: str = ""
    widget: Widget = Widget.TEXT
    choices: tuple[Choice, ...] = ()
    example: str = ""
    required: bool = False
    of_resident: bool = True
    never: bool = False
    may_be_future: bool = False
    minor: bool = False

    @property
    def values(self) -> tuple[str, ...]:
        """The stored values of the choices, in order."""
        return tuple(choice.value for choice in self.choices)

    @property
    def allowed(self) -> str:
        """What may be written, in words, for the data dictionary and for remedies."""
        if self.widget is Widget.CHOICE:
            return ", ".join(self.values)
        if self.widget is Widget.CHOICES:
            return 'any of these, separated by ";": ' + ", ".join(self.values)
        if self.widget is Widget.DATE:
            forms = '2009, about 2009, 5/2009, May 2009, 2009-05-12, 05/12/2009, 2008-2010, spring 2009, "10 years ago"'
            return f"a date as people write it: {forms}" + (", or never" if self.never else "")
        if self.widget is Widget.NUMBER:
            return "a number"
        return "the code as printed" if self.widget is Widget.CODE else "text"

    def label(self, value: str) -> str:
        """The label of a stored value (the value itself when it is none of the choices)."""
        return next((choice.label for choice in self.choices if choice.value == value), value)


_YES_NO = (Choice(Tri.YES, "Yes"), Choice(Tri.NO, "No"), Choice(Tri.UNKNOWN, "Not sure"))
_INTEREST = (
    Choice(Interest.YES, "Yes"),
    Choice(Interest.MAYBE, "Maybe"),
    Choice(Interest.NO, "No"),
    Choice(Interest.UNKNOWN, "Not sure"),
)


def _yes_no(key: str, section: Section, text: str, help_: str, *, example: str = "") -> Question:
    return Question(
        key=key,
        section=section,
        text=text,
        help=help_,
        widget=Widget.CHOICE,
        choices=_YES_NO,
        example=example,
    )


def _interest(key: str, text: str, help_: str, *, example: str = "") -> Question:
    return Question(
        key=key,
        section=Section.TOGETHER,
        text=text,
        help=help_,
        widget=Widget.CHOICE,
        choices=_INTEREST,
        example=example,
    )


QUESTIONS: tuple[Question, ...] = (
    Question(
        key="address",
        section=Section.HOME,
        text="Which address is it?",
        help="House number and street, with the unit if there is one.",
        required=True,
        example="12 Sample Street",
    ),
    Question(
        key="kind",
        section=Section.HEATER,
        text="What heats the water?",
        help=(
            "A tank with a burner at the bottom and a flue pipe on top is gas. A tank with only a cable is electric. "
            "A tank with a fan on top is a heat pump. A box on the wall is tankless."
        ),
        widget=Widget.CHOICE,
        choices=(
            Choice(HeaterKind.GAS_STORAGE, "Gas, with a tank"),
            Choice(HeaterKind.ELECTRIC_STORAGE, "Electric, with a tank"),
            Choice(HeaterKind.HEAT_PUMP_STORAGE, "Heat pump, with a tank"),
            Choice(HeaterKind.TANKLESS, "Tankless (a box on the wall)"),
            Choice(HeaterKind.UNKNOWN, "Not sure"),
        ),
        example="gas storage",
    ),
    Question(
        key="tank_gallons",
        section=Section.HEATER,
        text="How many gallons does the tank hold?",
        help="Printed on the label, often 40 or 50. Leave it open for a tankless heater.",
        widget=Widget.NUMBER,
        example="50",
    ),
    Question(
        key="installed",
        section=Section.AGE,
        text="When was it installed?",
        help='Roughly is fine: "2009", "about 2009", "May 2009", "10 years ago".',
        widget=Widget.DATE,
        example="about 2009",
    ),
    Question(
        key="installed_evidence",
        section=Section.AGE,
        text="How do you know?",
        help="The best you have. A date from the label is when the heater was made; it is counted from then.",
        widget=Widget.CHOICE,
        choices=(
            Choice(DateEvidence.DOCUMENT, "A permit, an invoice or a receipt"),
            Choice(DateEvidence.DATA_PLATE, "A date printed on the label (data plate)"),
            Choice(DateEvidence.DATE_CODE, "A code on the label, read with the help below"),
            Choice(DateEvidence.HOUSE_COMPLETION, "It came with the house"),
            Choice(DateEvidence.MEMORY, "From memory"),
        ),
        example="memory",
    ),
    Question(
        key="date_code",
        section=Section.AGE,
        text="If you cannot tell: what does the label print as date code or serial number?",
        help="Type it exactly as printed. It can mean several dates; you choose the one that fits.",
        widget=Widget.CODE,
        example="",
    ),
    Question(
        key="warranty_years",
        section=Section.AGE,
        text="How many years is its warranty?",
        help="On the label or in the papers; 6, 9 or 12 are common.",
        widget=Widget.NUMBER,
        example="6",
    ),
    Question(
        key="warranty_end",
        section=Section.AGE,
        text="Or on what date does its warranty end?",
        help="Only if a paper or the maker told you.",
        widget=Widget.DATE,
        may_be_future=True,
    ),
    Question(
        key="place",
        section=Section.AROUND,
        text="Where does it stand?",
        widget=Widget.CHOICE,
        choices=(
            Choice(Place.GARAGE, "Garage"),
            Choice(Place.OUTSIDE, "Outside or in an outside closet"),
            Choice(Place.BASEMENT, "Basement or crawl space"),
            Choice(Place.CLOSET, "Closet or utility room on the ground floor"),
            Choice(Place.UPPER_FLOOR, "Upper floor"),
            Choice(Place.ATTIC, "Attic"),
            Choice(Place.OTHER, "Somewhere else"),
            Choice(Place.UNKNOWN, "Not sure"),
        ),
        example="garage",
    ),
    _yes_no(
        "pan",
        Section.AROUND,
        "Is there a drain pan under it?",
        "A wide, flat tray of metal or plastic.",
        example="no",
    ),
    _yes_no(
        "leak_alarm",
        Section.AROUND,
        "Is there a leak alarm?",
        "A small device on the floor or in the pan that beeps or sends a message when it gets wet.",
    ),
    _yes_no(
        "auto_shutoff",
        Section.AROUND,
        "Is there an automatic water shut-off?",
        "A motor valve that closes the water by itself when there is a leak.",
    ),
    _yes_no(
        "softener",
        Section.AROUND,
        "Does the house have a water softener?",
        "Softened water uses up the tank's anode rod faster.",
    ),
    _yes_no(
        "expansion_tank",
        Section.AROUND,
        "Is there an expansion tank?",
        "A small round tank, the size of a football or larger, on the cold pipe near the heater.",
    ),
    Question(
        key="last_flush",
        section=Section.CARE,
        text="When was it last flushed?",
        help='Drained through the valve at the bottom to wash out sediment. "Never" is a good answer.',
        widget=Widget.DATE,
        never=True,
        example="never",
    ),
    Question(
        key="last_anode",
        section=Section.CARE,
        text="When was the anode rod last checked or changed?",
        help=(
            "The rod inside the tank that corrodes in its place; a contractor would have done it. "
            '"Never" is a good answer.'
        ),
        widget=Widget.DATE,
        never=True,
        example="never",
    ),
    Question(
        key="anode_work",
        section=Section.CARE,
        text="Was it checked, or changed for a new one?",
        widget=Widget.CHOICE,
        choices=(Choice("checked", "Only checked"), Choice("changed", "Changed for a new one")),
    ),
    Question(
        key="relief_valve_test",
        section=Section.CARE,
        text="When was the relief valve last tested?",
        help=(
            "The brass valve with a lever and a pipe running down. Please do not test it now: the water is scalding, "
            "and an old valve may not close again."
        ),
        widget=Widget.DATE,
        never=True,
    ),
    Question(
        key="symptoms",
        section=Section.TODAY,
        text="What do you notice today?",
        help=(
            "If you smell gas: shut the gas off only if that is safe, leave the house, and call the gas utility or the "
            "emergency number from outside. The survey can wait."
        ),
        widget=Widget.CHOICES,
        choices=(
            Choice(Symptom.GAS_SMELL, "Smell of gas (leave now and call from outside)"),
            Choice(Symptom.RELIEF_OPENED, "The relief valve has opened and let out hot water"),
            Choice(Symptom.SAFETY_SWITCH, "The burner's safety switch has tripped"),
            Choice(Symptom.LEAK, "Water on or under the heater"),
            Choice(Symptom.RELIEF_DRIPS, "The relief valve drips"),
            Choice(Symptom.RUSTY_WATER, "Rusty hot water"),
            Choice(Symptom.RUMBLE, "Rumbling or popping noises"),
            Choice(Symptom.SMELLY_WATER, "The hot water smells"),
            Choice(Symptom.RUNS_OUT, "Hot water runs out early"),
            Choice(Symptom.PILOT_OUT, "The pilot will not stay lit"),
            Choice(Symptom.NO_HOT_WATER, "No hot water"),
            Choice("none", "Nothing unusual"),
        ),
        example="none",
    ),
    Question(
        key="heater_number",
        section=Section.BEFORE,
        text="Is it the first heater in this home?",
        help="The first is the one the builder put in. What became of earlier ones tells how long heaters last here.",
        widget=Widget.CHOICE,
        choices=(
            Choice("first", "Yes, the first one"),
            Choice("second", "No, the second"),
            Choice("third or later", "No, the third or a later one"),
            Choice("not sure", "Not sure"),
        ),
        example="first",
    ),
    Question(
        key="previous_gone",
        section=Section.BEFORE,
        text="If there was one before: when did it go?",
        help="Roughly is fine. Leave it open if this is the first.",
        widget=Widget.DATE,
    ),
    Question(
        key="previous_end",
        section=Section.BEFORE,
        text="Did it leak or fail, or was it replaced before it failed?",
        widget=Widget.CHOICE,
        choices=(
            Choice(EndCause.FAILED, "It leaked or failed"),
            Choice(EndCause.REPLACED, "It was replaced before it failed"),
            Choice(EndCause.CONVERTED, "The house changed to another kind (such as tankless)"),
            Choice(EndCause.UNKNOWN, "Not sure"),
        ),
    ),
    Question(
        key="moved_in",
        section=Section.BEFORE,
        text="When did you move in?",
        help="You know the heater's story from then on; that is why it is asked.",
        widget=Widget.DATE,
        example="2015",
    ),
    _interest(
        "flush_day",
        "Would you join a flush day?",
        "A contractor flushes many heaters on one day, for less. The committee and the crew then see your address.",
        example="yes",
    ),
    _interest(
        "anode_day",
        "Would you join an anode day?",
        "A licensed contractor checks or changes the anode rods of many heaters on one day. The committee and the crew "
        "then see your address.",
        example="maybe",
    ),
    _interest(
        "group_purchase",
        "Would you join a group purchase of new heaters?",
        "Saying yes binds you to nothing. The committee then sees your address and what heater you need.",
    ),
    Question(
        key="weekdays",
        minor=True,
        section=Section.TOGETHER,
        text="Which weekdays suit you?",
        widget=Widget.CHOICES,
        choices=(
            Choice("mon", "Monday"),
            Choice("tue", "Tuesday"),
            Choice("wed", "Wednesday"),
            Choice("thu", "Thursday"),
            Choice("fri", "Friday"),
            Choice("sat", "Saturday"),
            Choice("sun", "Sunday"),
        ),
        example="tue;sat",
    ),
    Question(
        key="half_day",
        minor=True,
        section=Section.TOGETHER,
        text="Morning or afternoon?",
        widget=Widget.CHOICE,
        choices=(
            Choice(HalfDay.ANY, "Either"),
            Choice(HalfDay.MORNING, "Morning only"),
            Choice(HalfDay.AFTERNOON, "Afternoon only"),
        ),
        example="either",
    ),
    Question(
        key="consent",
        section=Section.CONTACT,
        text="May the survey keep these answers?",
        help=(
            "They are used to plan the care of the community's heaters, seen by the survey's volunteers, and deleted "
            "when you ask. If you say no, only the refusal is kept, so that nobody asks again."
        ),
        widget=Widget.CHOICE,
        choices=(Choice(Tri.YES, "Yes"), Choice(Tri.NO, "No")),
        example="yes",
    ),
    Question(
        key="contact",
        section=Section.CONTACT,
        text="How can we reach you?",
        help="Phone or e-mail, if you like.",
    ),
    Question(
        key="answered_on",
        section=Section.CONTACT,
        text="On what date was this answered?",
        help="For paper forms and spreadsheets; blank means the day it is entered.",
        widget=Widget.DATE,
        of_resident=False,
    ),
    Question(
        key="remarks",
        section=Section.CONTACT,
        text="Anything else?",
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
