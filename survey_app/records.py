"""The words of the survey as values: homes, heaters, their histories, answers.

Everything here is a frozen value with no input or output, so that a record can
be cached, compared, pickled and handed between the database, the statistics
and the pages without surprises. Units are in the names. A date that is known
only roughly is a :class:`Dated`: the earliest and the latest day it can have
been, and the evidence that says so.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from enum import StrEnum

__all__ = [
    "CREW_NOTE",
    "Answer",
    "AnswerChannel",
    "Community",
    "ContactNote",
    "Contacted",
    "DateEvidence",
    "Dated",
    "EndCause",
    "Event",
    "EventKind",
    "HalfDay",
    "Heater",
    "HeaterKind",
    "Home",
    "Interest",
    "OfferReply",
    "Parcel",
    "Phase",
    "Place",
    "PlatePhoto",
    "PlateState",
    "Report",
    "ServiceKind",
    "ServiceRecord",
    "Spell",
    "Symptom",
    "Tri",
    "Venting",
    "Visit",
    "VisitOutcome",
    "WarrantyClass",
    "Wishes",
]

DAYS_PER_YEAR = 365.25
DAYS_PER_MONTH = DAYS_PER_YEAR / 12


class HeaterKind(StrEnum):
    """What heats the water, and whether it is kept in a tank."""

    GAS_STORAGE = "gas storage"
    ELECTRIC_STORAGE = "electric storage"
    HEAT_PUMP_STORAGE = "heat pump storage"
    TANKLESS = "tankless"
    UNKNOWN = "unknown"

    @property
    def has_tank(self) -> bool:
        """Whether there is a tank to flush and an anode to change (unknown counts as a tank)."""
        return self is not HeaterKind.TANKLESS


class DateEvidence(StrEnum):
    """What an installation date rests on, best first (common practice, no source)."""

    DOCUMENT = "permit or invoice"
    DATA_PLATE = "data plate"
    DATE_CODE = "date code"
    HOUSE_COMPLETION = "house completion"
    MEMORY = "memory"

    @property
    def rank(self) -> int:
        """0 for the best evidence; larger is weaker."""
        return list(DateEvidence).index(self)


class EndCause(StrEnum):
    """Why a heater left service."""

    FAILED = "failed"
    REPLACED = "replaced before failing"
    CONVERTED = "converted"
    UNKNOWN = "unknown"


class Place(StrEnum):
    """Where the heater stands: it decides what a leak costs."""

    GARAGE = "garage"
    OUTSIDE = "outside"
    BASEMENT = "basement"
    CLOSET = "closet"
    UPPER_FLOOR = "upper floor"
    ATTIC = "attic"
    OTHER = "other"
    UNKNOWN = "unknown"


class Venting(StrEnum):
    """Which pipe takes the burnt gas outside: what a new heater of the same kind must fit."""

    METAL = "metal pipe up"
    PLASTIC = "plastic pipe with fan"
    IN_A_PIPE = "pipe in pipe"
    NONE = "no pipe"
    UNKNOWN = "unknown"


class Tri(StrEnum):
    """Yes, no, or the always valid "not sure"."""

    YES = "yes"
    NO = "no"
    UNKNOWN = "not sure"


class Interest(StrEnum):
    """Whether the home would take part in something the committee organizes."""

    YES = "yes"
    MAYBE = "maybe"
    NO = "no"
    UNKNOWN = "not sure"


class HalfDay(StrEnum):
    """Which part of a day suits."""

    ANY = "either"
    MORNING = "morning"
    AFTERNOON = "afternoon"


class Symptom(StrEnum):
    """What a resident can see, hear or smell today; what each one means stands in :mod:`survey_app.symptoms`."""

    GAS_SMELL = "smell of gas"
    CARBON_MONOXIDE = "carbon monoxide alarm or illness"
    RELIEF_OPENED = "relief valve has opened"
    BAD_FLUE = "soot or a bad flue"
    SAFETY_SWITCH = "burner safety switch has tripped"
    LEAK = "water on or under the heater"
    TOO_HOT = "water far too hot"
    RELIEF_DRIPS = "relief valve drips"
    RUSTY_WATER = "rusty hot water"
    RUMBLE = "rumbling or popping"
    SMELLY_WATER = "hot water smells"
    RUNS_OUT = "hot water runs out early"
    PILOT_OUT = "pilot will not stay lit"
    NO_HOT_WATER = "no hot water"


class ServiceKind(StrEnum):
    """A dated act on a heater."""

    FLUSH = "flush"
    ANODE_CHECK = "anode check"
    ANODE_CHANGE = "anode change"
    RELIEF_VALVE_TEST = "relief valve test"
    PART_REPLACED = "part replaced"


class AnswerChannel(StrEnum):
    """How an answer reached the survey."""

    FORM = "form"
    PAPER = "paper"
    IMPORT = "import"


class VisitOutcome(StrEnum):
    """What became of a visit on a service day."""

    PLANNED = "planned"
    DONE = "done"
    NOT_DONE = "not done"
    NOBODY_HOME = "nobody home"


class Contacted(StrEnum):
    """What came of one attempt to reach a home."""

    SPOKE = "spoke, answer promised"
    REFUSED = "refused"
    NOBODY = "nobody there"
    EMPTY = "empty or no dwelling"
    UNREACHED = "could not get to the door"
    UNSURE = "lived in, but perhaps no heater of its own"
    OTHER = "other"


class PlateState(StrEnum):
    """What a volunteer made of a photograph of a data plate."""

    WAITING = "waiting"
    READ = "read"
    UNREADABLE = "unreadable"


class WarrantyClass(StrEnum):
    """Where a heater stands against its warranty term."""

    IN_WARRANTY = "in warranty"
    PAST_WARRANTY = "past warranty"
    PAST_TWICE = "past twice warranty"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True, kw_only=True)
class Dated:
    """A day known to lie within a window, and the evidence for it.

    Parameters
    ----------
    earliest, latest
        The first and the last day it can have been, both included.
    evidence
        What says so; None for acts (a flush, a move-in) where the resident's
        word is all there ever is.
    """

    earliest: date
    latest: date
    evidence: DateEvidence | None = None

    def __post_init__(self) -> None:
        if self.latest < self.earliest:
            raise ValueError(f"The window ends ({self.latest}) before it begins ({self.earliest}).")

    @classmethod
    def on(cls, day: date, evidence: DateEvidence | None = None) -> Dated:
        """A day known exactly."""
        return cls(earliest=day, latest=day, evidence=evidence)

    @property
    def best(self) -> date:
        """The middle of the window."""
        return self.earliest + timedelta(days=(self.latest - self.earliest).days // 2)

    @property
    def plus_minus_months(self) -> float:
        """Half the width of the window, in months."""
        return (self.latest - self.earliest).days / 2 / DAYS_PER_MONTH

    def years_until(self, day: date) -> float:
        """Years from the middle of the window to `day` (negative when `day` is earlier)."""
        return (day - self.best).days / DAYS_PER_YEAR


@dataclass(frozen=True, slots=True, kw_only=True)
class Community:
    """The homeowners' association's homes, as one survey."""

    name: str
    synthetic: bool
    local_epsg: int | None
    """EPSG code of the metric projection in which distances and areas are measured."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Phase:
    """A part of the community built together in a few years."""

    phase_id: str
    first_built_year: int | None
    last_built_year: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Parcel:
    """The county's land unit, stored in WGS 84.

    ``outline_wkb`` is well-known binary (OGC 06-103r4) of a polygon or
    multipolygon in degrees; ``lon`` and ``lat`` are a point inside it.
    """

    parcel_id: str
    address: str
    built_year: int | None
    phase_id: str | None
    land_use: str | None
    lon: float
    lat: float
    area_m2: float
    outline_wkb: bytes


@dataclass(frozen=True, slots=True, kw_only=True)
class Home:
    """A dwelling that can hold a heater; several may share a parcel.

    ``moved_in`` is when the people who answered began to know the home's
    history: nothing before it is observed unless they were told.
    """

    home_id: str
    parcel_id: str
    address: str
    street: str
    phase_id: str | None
    built_year: int | None
    moved_in: Dated | None = None
    softener: Tri = Tri.UNKNOWN


@dataclass(frozen=True, slots=True, kw_only=True)
class Heater:
    """One water heater in one home, from installation to removal.

    Heaters succeed one another in a home: ``sequence`` counts from the oldest
    one that is known. The one in service has ``removed`` and ``end_cause`` None.

    ``number_in_home`` is 1 for the heater the house was built with, 2 for the
    second, 3 for the third or any later one, and None where nobody knows. A
    former heater with ``installed`` None was there before anyone counted.
    """

    heater_id: str
    home_id: str
    sequence: int
    kind: HeaterKind = HeaterKind.UNKNOWN
    tank_gallons: float | None = None
    installed: Dated | None = None
    number_in_home: int | None = None
    warranty_years: float | None = None
    warranty_end: date | None = None
    removed: Dated | None = None
    end_cause: EndCause | None = None
    place: Place = Place.UNKNOWN
    venting: Venting = Venting.UNKNOWN
    pan: Tri = Tri.UNKNOWN
    leak_alarm: Tri = Tri.UNKNOWN
    auto_shutoff: Tri = Tri.UNKNOWN
    expansion_tank: Tri = Tri.UNKNOWN
    symptoms: tuple[Symptom, ...] = ()
    """What was reported of it and is not settled; when, and by whom, a :class:`Report` says."""
    never_done: tuple[ServiceKind, ...] = ()
    """Acts the residents say were never done on this heater (silence is not never)."""

    @property
    def in_service(self) -> bool:
        """Whether this is the heater in the home today."""
        return self.removed is None and self.end_cause is None


@dataclass(frozen=True, slots=True, kw_only=True)
class Report:
    """Something wrong with the heater in service, told by the people of the home or found by a crew.

    Parameters
    ----------
    what
        A :class:`Symptom`, or what a crew found that is none, as it stands in :data:`survey_app.symptoms.FINDINGS`.
    on
        The day it was told or found; None where nobody knows.
    by_crew
        Whether a crew found it.
    settled
        The day it was settled; None while it stands.
    """

    what: str
    on: date | None
    by_crew: bool = False
    settled: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ServiceRecord:
    """A dated act on a heater, with what was found."""

    record_id: str
    heater_id: str
    kind: ServiceKind
    done: Dated
    findings: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wishes:
    """What a home would take part in, when it suits, and how to reach it, by its latest word on each."""

    home_id: str
    flush_day: Interest = Interest.UNKNOWN
    anode_day: Interest = Interest.UNKNOWN
    group_purchase: Interest = Interest.UNKNOWN
    weekdays: tuple[str, ...] = ()
    """``mon`` to ``sun``; empty where any day suits or nobody said."""
    half_day: HalfDay = HalfDay.ANY
    contact: str = ""
    remarks: str = ""
    asked_on: date | None = None
    """The day of the first answer that wished to take part in something."""


CREW_NOTE = "note: "
"""What a crew wrote in its own words begins so among an event's findings: no finding is read from it."""


class EventKind(StrEnum):
    """What happened at a home, apart from answers: known from whoever did it."""

    VISIT = "service visit"
    REPLACEMENT = "heater replaced"


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """Something done at a home on a known day, told by the crew or the volunteer.

    Parameters
    ----------
    acts
        What was done to the heater, for a visit.
    seen
        What the crew saw that a resident would report, such as a leak.
    findings
        What was found, in words.
    kind_of_heater, tank_gallons, warranty_years
        The new heater, for a replacement.
    end_cause
        Why the old heater went, for a replacement.
    """

    event_id: str
    home_id: str
    kind: EventKind
    on: date
    told_by: str
    acts: tuple[ServiceKind, ...] = ()
    seen: tuple[Symptom, ...] = ()
    findings: str = ""
    kind_of_heater: HeaterKind = HeaterKind.UNKNOWN
    tank_gallons: float | None = None
    warranty_years: float | None = None
    end_cause: EndCause | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Visit:
    """A home on a plan of service days, and what became of the visit."""

    plan_id: str
    home_id: str
    on: date | None
    confirmed: bool = False
    outcome: VisitOutcome = VisitOutcome.PLANNED
    why: str = ""
    findings: tuple[str, ...] = ()
    closed_by: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class OfferReply:
    """What a home said to its offer; nothing in it is binding.

    Parameters
    ----------
    limit_usd, latest
        The most it would pay a complete job, and by when it wants it.
    plan_id, price_usd
        The forming of rounds it was said to, and the price.
    wants_kind
        The kind of heater it asked for instead of its own; None for its own.
    """

    home_id: str
    says: Interest
    limit_usd: float | None
    latest: date | None
    at: datetime
    plan_id: str | None = None
    price_usd: float | None = None
    wants_kind: HeaterKind | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ContactNote:
    """One attempt to reach a home."""

    note_id: str
    home_id: str
    on: date
    outcome: Contacted
    by: str
    words: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlatePhoto:
    """A kept photograph of a home's data plate."""

    photo_id: str
    home_id: str
    at: datetime
    state: PlateState
    jpeg: bytes


@dataclass(frozen=True, slots=True, kw_only=True)
class Spell:
    """The time one heater was under observation.

    Parameters
    ----------
    heater_id, home_id
        Which heater, in which home.
    installed
        When its life began; None where nobody knows.
    observed_from
        The day from which its end would have been noticed: its installation,
        or the day the people moved in when they know nothing earlier.
    ended
        The window in which it left service; None while it is in service.
    end_cause
        Why; None while it is in service.
    """

    heater_id: str
    home_id: str
    installed: Dated | None
    observed_from: date
    ended: Dated | None
    end_cause: EndCause | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """One submission about one home, kept as given.

    ``given`` maps question keys (see :mod:`survey_app.intake`) to the text the
    person typed or chose; what it means is read from it, never written back.
    """

    answer_id: str
    home_id: str | None
    """None while the address is not yet joined to a home."""
    address_as_typed: str
    channel: AnswerChannel
    submitted_at: datetime
    submitted_by: str
    answered_on: date
    given: Mapping[str, str] = field(default_factory=dict)
    overruled: Mapping[str, str] = field(default_factory=dict)
    """Contradictions the person overruled, each with the reason given."""
