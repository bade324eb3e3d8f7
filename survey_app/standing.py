"""What the tool says about one home today: age, warranty multiple, what is due.

Everything is computed from records and a day; nothing is stored. A date known
roughly gives an age with a range, and a class that the range does not settle
is said to be unsettled.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

from survey_app.records import (
    DAYS_PER_YEAR,
    Dated,
    DateEvidence,
    Heater,
    Home,
    Report,
    ServiceKind,
    ServiceRecord,
    Symptom,
    Tri,
    WarrantyClass,
)
from survey_app.reported import standing_reports
from survey_app.settings import Settings
from survey_app.symptoms import ANODE_SPENT, leading, odds_stand
from survey_app.texts import ENGLISH, Texts

__all__ = ["Care", "CareState", "Standing", "add_years", "class_counts", "standing", "standings"]

_ANODE = (ServiceKind.ANODE_CHECK, ServiceKind.ANODE_CHANGE)


class CareState(StrEnum):
    """How urgent one kind of maintenance is."""

    FINE = "not due"
    CLOSING = "window closing"
    DUE = "due"
    LATE = "window passed"
    ASK = "ask a contractor first"
    UNKNOWN = "not known"
    NONE = "does not apply"


@dataclass(frozen=True, slots=True, kw_only=True)
class Care:
    """One kind of maintenance: its state, the day that matters, and the sentence people read."""

    what: str
    state: CareState
    on: date | None
    last: Dated | None
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """Where one home stands on one day.

    ``age_years`` and ``warranty_multiple`` are (low, best, high) over the window
    of the installation date; None when nothing is known. ``class_settled`` is
    False when the window reaches over a class's edge, or when the term is only
    assumed and another usual term would give another class. ``headline`` says
    the class with just that doubt.
    """

    home: Home
    as_of: date
    answered: bool
    heater: Heater | None
    age_years: tuple[float, float, float] | None
    warranty_years: float | None
    warranty_assumed: bool
    warranty_end: Dated | None
    warranty_multiple: tuple[float, float, float] | None
    warranty_class: WarrantyClass
    class_settled: bool
    headline: str
    rests_on: str
    cares: tuple[Care, ...]
    last_maintenance: Dated | None
    comes_first: tuple[Symptom, ...]
    reported: tuple[Report, ...]
    """What was reported and is not settled, the most pressing first: every page about the home leads with it."""

    @property
    def odds_stand(self) -> bool:
        """Whether odds and sums of money speak of this heater: not while something forbids it that was reported."""
        return self.heater is None or odds_stand(self.heater.symptoms)

    @property
    def map_class(self) -> str:
        """The class drawn on a map: the warranty class, or that nobody answered."""
        return str(self.warranty_class) if self.answered else "no answer"


def add_years(day: date, years: float) -> date:
    """`day` moved by `years` of 365.25 days."""
    return day + timedelta(days=round(years * DAYS_PER_YEAR))


def _years(days: int) -> float:
    return days / DAYS_PER_YEAR


def standing(
    home: Home,
    heaters: Sequence[Heater],
    services: Sequence[ServiceRecord],
    *,
    answered: bool,
    settings: Settings,
    as_of: date,
    reports: Sequence[Report] = (),
    say: Texts = ENGLISH,
) -> Standing:
    """The standing of one home.

    Parameters
    ----------
    home, heaters, services
        The home and what is known of its heaters, in any order.
    answered
        Whether anyone answered for this home.
    settings
        Intervals and the warranty term assumed where none is known.
    as_of
        The day to judge by.
    reports
        When, and by whom, what stands was reported; and what a crew found that is no symptom.
    say
        The language of its sentences.
    """
    current = next((h for h in sorted(heaters, key=lambda h: -h.sequence) if h.in_service), None)
    if current is None:
        nothing = say("standing-no-heater" if answered else "standing-nobody-answered")
        return Standing(
            home=home,
            as_of=as_of,
            answered=answered,
            heater=None,
            age_years=None,
            warranty_years=None,
            warranty_assumed=False,
            warranty_end=None,
            warranty_multiple=None,
            warranty_class=WarrantyClass.UNKNOWN,
            class_settled=False,
            headline=nothing,
            rests_on=nothing,
            cares=(),
            last_maintenance=None,
            comes_first=(),
            reported=(),
        )
    acts = sorted((s for s in services if s.heater_id == current.heater_id), key=lambda s: s.done.best)
    age = _age(current.installed, as_of)
    term, assumed, end = _warranty(current, settings)
    multiple = tuple(a / term for a in age) if age and term else None
    cls, date_settles = _class(multiple, end, term, as_of)
    term_settles = not assumed or term is None or _class_with(age, end, _longest(term, settings), as_of) is cls
    stands = standing_reports(reports, current.symptoms, acts)
    spent = next((report.on for report in stands if report.what == ANODE_SPENT), None)
    return Standing(
        home=home,
        as_of=as_of,
        answered=answered,
        heater=current,
        age_years=age,
        warranty_years=term,
        warranty_assumed=assumed,
        warranty_end=end,
        warranty_multiple=(multiple[0], multiple[1], multiple[2]) if multiple else None,
        warranty_class=cls,
        class_settled=date_settles and term_settles,
        headline=_headline(cls, term, say, date_settles=date_settles, term_settles=term_settles),
        rests_on=_rests_on(current, assumed, term, say),
        cares=_cares(home, current, acts, age, settings, as_of, say, spent=spent),
        last_maintenance=acts[-1].done if acts else None,
        comes_first=tuple(row.symptom for row in leading(current.symptoms) if row.comes_first),
        reported=stands,
    )


def standings(
    homes: Iterable[Home],
    heaters: Iterable[Heater],
    services: Iterable[ServiceRecord],
    *,
    answered: frozenset[str],
    settings: Settings,
    as_of: date,
    reports: Mapping[str, Sequence[Report]] = {},
) -> list[Standing]:
    """The standing of every home, in the order of `homes`.

    Parameters
    ----------
    answered
        The ids of the homes for which anyone answered.
    reports
        By home, when and by whom what stands was reported.
    """
    by_home: dict[str, list[Heater]] = {}
    home_of: dict[str, str] = {}
    for heater in heaters:
        by_home.setdefault(heater.home_id, []).append(heater)
        home_of[heater.heater_id] = heater.home_id
    acts: dict[str, list[ServiceRecord]] = {}
    for record in services:
        acts.setdefault(home_of.get(record.heater_id, ""), []).append(record)
    return [
        standing(
            home,
            by_home.get(home.home_id, []),
            acts.get(home.home_id, []),
            answered=home.home_id in answered,
            settings=settings,
            as_of=as_of,
            reports=reports.get(home.home_id, ()),
        )
        for home in homes
    ]


def class_counts(found: Iterable[Standing]) -> Mapping[str, int]:
    """How many homes stand in each map class, every class present."""
    counts = Counter(s.map_class for s in found)
    return {key: counts.get(key, 0) for key in (*map(str, WarrantyClass), "no answer")}


def _age(installed: Dated | None, as_of: date) -> tuple[float, float, float] | None:
    if installed is None:
        return None
    low = max(0.0, _years((as_of - installed.latest).days))
    high = max(0.0, _years((as_of - installed.earliest).days))
    return low, min(max(_years((as_of - installed.best).days), low), high), high


def _warranty(heater: Heater, settings: Settings) -> tuple[float | None, bool, Dated | None]:
    """The term in years, whether it is assumed, and the window in which it ends."""
    installed, end = heater.installed, heater.warranty_end
    if end is not None:
        if heater.warranty_years:
            return heater.warranty_years, False, Dated.on(end)
        if installed is not None:
            term = _years((end - installed.best).days)
            if term >= 0.5:
                return term, False, Dated.on(end)
        return settings.default_warranty_years, True, Dated.on(end)
    assumed = heater.warranty_years is None
    term = heater.warranty_years or settings.default_warranty_years
    if installed is None:
        return term, assumed, None
    return (
        term,
        assumed,
        Dated(earliest=add_years(installed.earliest, term), latest=add_years(installed.latest, term)),
    )


def _class(
    multiple: tuple[float, ...] | None, end: Dated | None, term: float | None, as_of: date
) -> tuple[WarrantyClass, bool]:
    """The class, and whether the window of the date settles it."""
    if multiple is None:
        if end is None or term is None:
            return WarrantyClass.UNKNOWN, False
        # Only the day the warranty ends is known: the term places the installation.
        past = 1 + _years((as_of - end.best).days) / term
        return _class_of(past), True
    low, best, high = multiple
    return _class_of(best), _class_of(low) is _class_of(high)


def _longest(term: float, settings: Settings) -> float:
    return max(term, settings.longest_usual_warranty_years)


def _class_with(age: _Age, end: Dated | None, term: float, as_of: date) -> WarrantyClass:
    """The class if the warranty had another term."""
    return _class(tuple(a / term for a in age) if age else None, end, term, as_of)[0]


def _headline(cls: WarrantyClass, term: float | None, say: Texts, *, date_settles: bool, term_settles: bool) -> str:
    """The class as a sentence that is no surer than what it rests on."""
    name = f"standing-head-{cls.replace(' ', '-')}"
    if cls is WarrantyClass.UNKNOWN or term is None or (date_settles and term_settles):
        return say(name)
    doubt = "both" if not (date_settles or term_settles) else "term" if date_settles else "date"
    return say(
        f"{name}.probably", doubt=say(f"standing-doubt-{doubt}", term=say.number(term, 0 if term % 1 == 0 else 1))
    )


def _class_of(multiple: float) -> WarrantyClass:
    """In warranty below 1, past it from 1, past twice from 2 (common practice, no source)."""
    if multiple < 1:
        return WarrantyClass.IN_WARRANTY
    return WarrantyClass.PAST_WARRANTY if multiple < 2 else WarrantyClass.PAST_TWICE


def _rests_on(heater: Heater, assumed: bool, term: float | None, say: Texts) -> str:
    if heater.installed is None:
        first = say("rests-no-date")
    else:
        evidence = heater.installed.evidence or DateEvidence.MEMORY
        what = say(_EVIDENCE_WORDS[evidence])
        months = round(heater.installed.plus_minus_months)
        first = say("rests-date-rough", what=what, months=months) if months >= 2 else say("rests-date", what=what)
    if assumed and term is not None:
        first += " " + say("rests-term-assumed", term=f"{term:g}")
    return first


_EVIDENCE_WORDS = {
    DateEvidence.DOCUMENT: "rests-document",
    DateEvidence.DATA_PLATE: "rests-data-plate",
    DateEvidence.DATE_CODE: "rests-date-code",
    DateEvidence.HOUSE_COMPLETION: "rests-house-completion",
    DateEvidence.MEMORY: "rests-memory",
}

_Age = tuple[float, float, float] | None


def _cares(
    home: Home,
    heater: Heater,
    acts: Sequence[ServiceRecord],
    age: _Age,
    settings: Settings,
    as_of: date,
    say: Texts,
    *,
    spent: date | None,
) -> tuple[Care, ...]:
    if not heater.kind.has_tank:
        return (Care(what="flush", state=CareState.NONE, on=None, last=None, sentence=say("care-tankless")),)

    def last(*kinds: ServiceKind) -> Dated | None:
        return next((a.done for a in reversed(acts) if a.kind in kinds), None)

    return (
        _flush_care(heater, last(ServiceKind.FLUSH), age, settings, as_of, say),
        _spent_anode(spent, last(*_ANODE), say)
        if spent is not None
        else _anode_care(home, heater, last(*_ANODE), age, settings, as_of, say),
        _relief_care(heater, last(ServiceKind.RELIEF_VALVE_TEST), age, settings, as_of, say),
    )


def _flush_care(heater: Heater, last: Dated | None, age: _Age, settings: Settings, as_of: date, say: Texts) -> Care:
    def care(state: CareState, on: date | None, key: str, **values: str | int) -> Care:
        return Care(what="flush", state=state, on=on, last=last, sentence=say(f"care-flush-{key}", **values))

    if last is not None:
        on = add_years(last.best, settings.flush_every_years)
        state, key = (CareState.FINE, "fine") if on > as_of else (CareState.DUE, "due")
        return care(state, on, key, last=_when_done(last, say), when=say.month(on))
    never = ServiceKind.FLUSH in heater.never_done
    if age is None:
        return care(CareState.UNKNOWN, None, "no-age")
    if age[1] >= settings.never_flushed_caution_years:
        return care(CareState.ASK, None, "never-old" if never else "none-old", years=round(age[1]))
    if never and heater.installed is not None:
        on = add_years(heater.installed.best, settings.flush_every_years)
        if on <= as_of:
            return care(CareState.DUE, on, "first-was", when=say.month(on))
        return care(CareState.FINE, on, "first-is", when=say.month(on))
    return care(CareState.UNKNOWN, None, "unknown")


def _spent_anode(found: date, last: Dated | None, say: Texts) -> Care:
    """A crew saw that it is spent: a new one is due from that day, however lately it was looked at."""
    sentence = say("care-anode-spent", when=say.month(found))
    return Care(what="anode", state=CareState.DUE, on=found, last=last, sentence=sentence)


def _anode_care(
    home: Home, heater: Heater, last: Dated | None, age: _Age, settings: Settings, as_of: date, say: Texts
) -> Care:
    def care(state: CareState, on: date | None, key: str, **values: str | int) -> Care:
        return Care(what="anode", state=state, on=on, last=last, sentence=say(f"care-anode-{key}", **values))

    softened = home.softener is Tri.YES
    every = settings.anode_every_years_softened if softened else settings.anode_every_years
    if last is not None:
        on = add_years(last.best, every)
        state, key = (CareState.FINE, "fine") if on > as_of else (CareState.DUE, "due")
        return care(state, on, key, last=_when_done(last, say), when=say.month(on))
    if age is None or heater.installed is None:
        return care(CareState.UNKNOWN, None, "no-age")
    known = "unknown" if set(_ANODE).isdisjoint(heater.never_done) else "never"
    start = add_years(heater.installed.best, min(every, settings.anode_first_within_years - 1))
    close = add_years(heater.installed.best, settings.anode_first_within_years)
    if as_of < start:
        return care(CareState.FINE, start, "first-between", **{"from": say.month(start), "when": say.month(close)})
    if as_of <= close:
        return care(CareState.CLOSING, close, f"{known}-closing", when=say.month(close))
    return care(CareState.LATE, close, f"{known}-late", when=say.month(close))


def _relief_care(heater: Heater, last: Dated | None, age: _Age, settings: Settings, as_of: date, say: Texts) -> Care:
    def care(state: CareState, on: date | None, key: str, **values: str | int) -> Care:
        return Care(what="relief valve", state=state, on=on, last=last, sentence=say(f"care-relief-{key}", **values))

    old = age is not None and age[1] >= settings.relief_inspect_every_years
    if last is not None and age is not None and old:
        # A lever that moved says nothing of the inside of a valve as old as the heater.
        return care(CareState.ASK, None, "tested-old", last=_when_done(last, say), years=round(age[1]))
    if last is not None:
        on = add_years(last.best, settings.relief_test_every_years)
        state, key = (CareState.FINE, "fine") if on > as_of else (CareState.DUE, "due")
        return care(state, on, key, last=_when_done(last, say), when=say.month(on))
    if age is not None and old:
        return care(CareState.ASK, None, "old", years=round(age[1]))
    if age is not None and heater.installed is not None:
        on = add_years(heater.installed.best, settings.relief_test_every_years)
        if on <= as_of:
            return care(CareState.DUE, on, "first-was", when=say.month(on))
        return care(CareState.FINE, on, "first-is", when=say.month(on))
    return care(CareState.UNKNOWN, None, "unknown")


def _when_done(day: Dated, say: Texts) -> str:
    months = day.plus_minus_months
    if months <= 1:
        return say("care-in-month", when=say.month(day.best))
    return say("care-in-year" if months <= 6.5 else "care-around-year", when=str(day.best.year))
