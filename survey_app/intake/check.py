"""One answer checked: a record and what it says, or every problem at once."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from typing import Literal, cast

from survey_app.date_codes import Reading, installed_after, readings
from survey_app.intake.content import (
    NEVER,
    Checked,
    Content,
    Done,
    InstalledBasis,
    Problem,
    Severity,
)
from survey_app.intake.contradictions import FUTURE_FIELDS, contradictions
from survey_app.intake.questions import KEYS, question
from survey_app.intake.spellings import CAME_WITH_THE_HOUSE
from survey_app.intake.values import plain, read_choice, read_choices, read_number, simplify
from survey_app.records import (
    Answer,
    AnswerChannel,
    Dated,
    DateEvidence,
    EndCause,
    HalfDay,
    HeaterKind,
    Interest,
    Place,
    Symptom,
    Tri,
)
from survey_app.typed_dates import DateReading, ReadDate, add_months, describe, read_date

__all__ = ["OVERRULE_ALL", "answer_id_of", "check"]

OVERRULE_ALL = "*"
"""A key of `overruled` whose reason stands for every problem of the answer (one cell of a mend file)."""
LONGEST_TEXT = 2_000
"""Longer remarks are cut; nobody writes more on a form, and a paste by mistake should not fill the store."""
BUILDING_MONTHS = 3
"""A builder puts the heater in up to so long before the house is finished (common practice, no source)."""
WARRANTY_YEARS_APART = 2.0
"""A stated term and a stated end may differ by this before it is mentioned (common practice, no source)."""
_KEPT_OF_A_REFUSAL = ("address", "consent", "answered_on")


def check(
    given: Mapping[str, str],
    *,
    channel: AnswerChannel,
    today: date,
    house_year: int | None,
    submitted_by: str,
    submitted_at: datetime,
    answer_id: str | None = None,
    home_id: str | None = None,
    overruled: Mapping[str, str] | None = None,
) -> Checked:
    """Check one answer from a form, a paper form or a row.

    An installation date that was left open is taken, best first, from the only
    date code reading that fits, from the day the previous heater went, or, for
    the first heater, from the year the house was finished; a note says so.
    Where the person refuses consent, the address and the refusal are kept and
    nothing else is read.

    Parameters
    ----------
    given
        Text by question key; keys that are no question are passed over.
    channel, submitted_by, submitted_at
        How the answer came, from whom, when.
    today
        The day of the check. Words like "10 years ago" count from the day of
        the answer (``answered_on``) where one is given.
    house_year
        The year the house was finished; None where nobody knows.
    answer_id
        The record's id; None for one derived from what was given.
    home_id
        The home, where it is known already (the resident's own form).
    overruled
        Reasons by problem key; the key "*" stands for all of them.

    Returns
    -------
    Checked
        Never raises on any text. ``answer`` is None while a problem blocks it.
    """
    texts = {key: plain(str(given[key] or "")[: 10 * LONGEST_TEXT])[:LONGEST_TEXT] for key in KEYS if key in given}
    texts = {key: text for key, text in texts.items() if text}
    desk = _Desk(texts=texts, today=today)
    if "address" not in texts:
        desk.error("address", "address-missing", "The address is missing.", "Give the house number and the street.")
        return Checked(answer=None, content=None, problems=tuple(desk.problems))

    answered_on = _answered_on(desk)
    desk.answered_on = min(answered_on, today)
    if desk.tri("consent") is Tri.NO:
        texts = {key: texts[key] for key in _KEPT_OF_A_REFUSAL if key in texts}
        desk.problems = [problem for problem in desk.problems if problem.field in _KEPT_OF_A_REFUSAL]
        desk.note("consent", "refused", "Consent was refused: only the address and the refusal are kept.")
        content = Content(address=texts["address"], answered_on=answered_on, consent=Tri.NO)
    else:
        desk.problems = []
        answered_on = _answered_on(desk)
        content = _read_content(desk, answered_on, house_year)
        desk.problems.extend(contradictions(content, house_year=house_year, today=today))

    problems = [_overrule(problem, overruled or {}) for problem in desk.problems]
    problems.sort(key=lambda problem: not problem.key.startswith("safety:"))
    content = _left_open_when_overruled(content, problems, today)
    answer = None
    if not any(problem.blocking for problem in problems):
        answer = Answer(
            answer_id=answer_id or answer_id_of(texts),
            home_id=home_id,
            address_as_typed=texts["address"],
            channel=channel,
            submitted_at=submitted_at,
            submitted_by=submitted_by,
            answered_on=content.answered_on,
            given=texts,
            overruled={p.key: p.overruled_because for p in problems if p.overruled_because},
        )
    return Checked(answer=answer, content=content, problems=tuple(problems))


def answer_id_of(given: Mapping[str, str]) -> str:
    """An id made from what was given: the same content has the same id, whatever its case and spacing."""
    lines = [f"{key}={' '.join(given[key].casefold().split())}" for key in sorted(given) if given[key].strip()]
    return "a" + hashlib.sha256("\n".join(lines).encode("utf-8", "replace")).hexdigest()[:20]


@dataclass(slots=True)
class _Desk:
    """The texts being read, and the problems found on the way."""

    texts: Mapping[str, str]
    today: date
    answered_on: date = date.max
    problems: list[Problem] = field(default_factory=list)

    def error(self, key: str, name: str, what: str, remedy: str, *, overrulable: bool = False) -> None:
        self.problems.append(
            Problem(field=key, what=what, remedy=remedy, severity=Severity.ERROR, key=name, overrulable=overrulable)
        )

    def note(self, key: str, name: str, what: str, remedy: str = "") -> None:
        self.problems.append(Problem(field=key, what=what, remedy=remedy, severity=Severity.NOTE, key=name))

    def unreadable(self, key: str, typed: str, remedy: str, why: str = "") -> None:
        shown = typed if len(typed) <= 60 else typed[:57] + "..."
        if question(key).minor:
            self.note(key, f"{key}-unreadable", f'"{shown}" could not be read and was left open.', remedy)
            return
        self.error(
            key,
            f"{key}-unreadable",
            f'"{shown}" cannot be read as an answer to "{question(key).text}"' + (f" {why}" if why else ""),
            f"{remedy} Or leave it open.",
            overrulable=True,
        )

    def choice(self, key: str) -> str | None:
        """The stored value of a choice, None where open or unreadable."""
        read = read_choice(key, self.texts.get(key, ""))
        for part in read.wrong:
            self.unreadable(key, part, f"Choose from: {question(key).allowed}.")
        if read.note:
            self.note(key, f"{key}-read-as", read.note)
        return read.values[0] if read.values else None

    def choices(self, key: str) -> tuple[str, ...]:
        read = read_choices(key, self.texts.get(key, ""))
        for part in read.wrong:
            self.unreadable(key, part, f"Choose {question(key).allowed}.")
        if read.note:
            self.note(key, f"{key}-read-as", read.note)
        return read.values

    def tri(self, key: str) -> Tri:
        return Tri(self.choice(key) or Tri.UNKNOWN)

    def interest(self, key: str) -> Interest:
        return Interest(self.choice(key) or Interest.UNKNOWN)

    def number(self, key: str) -> float | None:
        text = self.texts.get(key, "")
        read = read_number(key, text)
        if read.wrong:
            self.unreadable(key, text, "Write a number.")
        if read.note:
            self.note(key, f"{key}-read-as", read.note)
        return read.value

    def read_date(self, key: str) -> ReadDate:
        asked = question(key)
        text = self.texts.get(key, "")
        base = self.today if self.answered_on == date.max else self.answered_on
        read = read_date(text, today=base, may_be_future=asked.may_be_future)
        if read.kind is DateReading.UNREADABLE:
            self.unreadable(key, text, read.remedy, read.note)
        elif read.kind is DateReading.NEVER and not asked.never and key not in ("previous_gone", "warranty_end"):
            self.unreadable(key, text, "Give a date.")
        elif read.note:
            self.note(key, f"{key}-read-as", f'"{text}" for "{asked.text}": {read.note}')
        return read

    def dated(self, key: str) -> Dated | None:
        return self.read_date(key).dated

    def done(self, key: str) -> Done:
        read = self.read_date(key)
        return NEVER if read.kind is DateReading.NEVER else read.dated


def _answered_on(desk: _Desk) -> date:
    """The day of the answer; today where it was left open or cannot be read."""
    read = desk.read_date("answered_on")
    if read.dated is None:
        return desk.today
    return read.preferred or read.dated.best


def _read_content(desk: _Desk, answered_on: date, house_year: int | None) -> Content:
    number = desk.choice("heater_number")
    anode_work = desk.choice("anode_work")
    previous_end = desk.choice("previous_end")
    end = desk.read_date("warranty_end")
    symptoms, no_symptoms = _symptoms(desk)
    content = Content(
        address=desk.texts["address"],
        answered_on=answered_on,
        kind=HeaterKind(desk.choice("kind") or HeaterKind.UNKNOWN),
        tank_gallons=desk.number("tank_gallons"),
        date_code=desk.texts.get("date_code", ""),
        warranty_years=desk.number("warranty_years"),
        warranty_end=(end.preferred or end.dated.best) if end.dated else None,
        place=Place(desk.choice("place") or Place.UNKNOWN),
        pan=desk.tri("pan"),
        leak_alarm=desk.tri("leak_alarm"),
        auto_shutoff=desk.tri("auto_shutoff"),
        softener=desk.tri("softener"),
        expansion_tank=desk.tri("expansion_tank"),
        last_flush=desk.done("last_flush"),
        last_anode=desk.done("last_anode"),
        anode_work=cast(Literal["checked", "changed"] | None, anode_work),
        relief_valve_test=desk.done("relief_valve_test"),
        symptoms=symptoms,
        no_symptoms=no_symptoms,
        number_in_home=_NUMBER_IN_HOME.get(number or ""),
        previous_gone=desk.dated("previous_gone"),
        previous_end=EndCause(previous_end) if previous_end else None,
        moved_in=desk.dated("moved_in"),
        flush_day=desk.interest("flush_day"),
        anode_day=desk.interest("anode_day"),
        group_purchase=desk.interest("group_purchase"),
        weekdays=desk.choices("weekdays"),
        half_day=HalfDay(half) if (half := desk.choice("half_day")) else None,
        consent=desk.tri("consent"),
        contact=desk.texts.get("contact", ""),
        remarks=desk.texts.get("remarks", ""),
    )
    content = _with_installation(desk, content, house_year)
    for problem in _remarkable(content):
        desk.problems.append(problem)
    return content


_NUMBER_IN_HOME: Mapping[str, Literal[1, 2, 3]] = {"first": 1, "second": 2, "third or later": 3}


def _symptoms(desk: _Desk) -> tuple[tuple[Symptom, ...], bool]:
    chosen = desk.choices("symptoms")
    symptoms = tuple(Symptom(value) for value in chosen if value != "none")
    if symptoms and "none" in chosen:
        desk.note("symptoms", "symptoms-and-none", '"none" was passed over, since something else was named with it.')
    for symptom in symptoms:
        if symptom.comes_first:
            desk.note("symptoms", f"safety:{symptom.value}", *_caution(symptom))
    if Symptom.LEAK in symptoms:
        desk.note("symptoms", f"safety:{Symptom.LEAK.value}", *_caution(Symptom.LEAK))
    return symptoms, chosen == ("none",)


def _caution(symptom: Symptom) -> tuple[str, str]:
    what, remedy = _CAUTIONS[symptom]
    return what, f"{remedy} Local code and the maker's instructions come first."


# Common practice, no source.
_CAUTIONS: Mapping[Symptom, tuple[str, str]] = {
    Symptom.GAS_SMELL: (
        "A smell of gas comes before everything else.",
        "Shut the gas off only if that is safe, touch no switch and light nothing, leave the house, and call the gas "
        "utility or the emergency number from outside. Work on gas belongs to a licensed contractor.",
    ),
    Symptom.RELIEF_OPENED: (
        "A relief valve that has opened means water too hot or pressure too high.",
        "Keep away from the scalding water, shut off the heater's gas or breaker if that is safe, never plug the "
        "valve, and call a licensed contractor now.",
    ),
    Symptom.SAFETY_SWITCH: (
        "A tripped burner safety switch means too little air, a blocked flue, or a burner that does not shut off.",
        "Do not reset it. Leave the heater off, air the room, and call a licensed contractor now; if anyone feels "
        "unwell or a carbon monoxide alarm sounds, leave and call the emergency number.",
    ),
    Symptom.LEAK: (
        "Water on or under the heater needs a look today.",
        "If the tank leaks: close the cold water at the heater, shut off its gas or breaker, mind the scalding water, "
        "and call a licensed contractor.",
    ),
}


def _with_installation(desk: _Desk, content: Content, house_year: int | None) -> Content:
    """The content with its installation date: as stated, or from the next best thing that was told."""
    evidence_given = desk.choice("installed_evidence")
    evidence = DateEvidence(evidence_given) if evidence_given else None
    with_house = simplify(desk.texts.get("installed", "")) in CAME_WITH_THE_HOUSE
    if with_house:
        evidence = DateEvidence.HOUSE_COMPLETION
    stated = None if with_house else desk.dated("installed")
    found: tuple[Reading, ...] = ()
    if content.date_code:
        found = readings(content.date_code, house_year=house_year, today=desk.today)
        if not any(reading.fits for reading in found):
            desk.note(
                "date_code",
                "code-without-reading",
                f'The code "{content.date_code[:40]}" gives no date that fits'
                + (f" a house finished in {house_year}." if house_year is not None else "."),
                "Check that it is typed as printed; the maker's warranty page can tell.",
            )
    content = replace(content, code_readings=found)
    if stated is not None:
        evidence = evidence or DateEvidence.MEMORY
        if evidence in (DateEvidence.DATA_PLATE, DateEvidence.DATE_CODE):
            installed = installed_after(stated, today=max(desk.today, stated.earliest), evidence=evidence)
        elif evidence is DateEvidence.HOUSE_COMPLETION:
            installed = replace(stated, earliest=add_months(stated.earliest, -BUILDING_MONTHS), evidence=evidence)
        else:
            installed = replace(stated, evidence=evidence)
        return replace(content, installed=installed, installed_basis=InstalledBasis.STATED)
    is_first = content.number_in_home == 1 or (
        evidence is DateEvidence.HOUSE_COMPLETION and content.number_in_home is None
    )
    return _installation_inferred(desk, content, house_year if is_first else None)


def _installation_inferred(desk: _Desk, content: Content, first_of_house: int | None) -> Content:
    """An installation date that was left open, from the code, the previous heater or the house."""
    house = None
    if first_of_house is not None and first_of_house <= desk.today.year and first_of_house >= 1:
        year_end = min(date(first_of_house, 12, 31), desk.today)
        house = Dated(earliest=date(first_of_house, 1, 1), latest=year_end, evidence=DateEvidence.HOUSE_COMPLETION)
    fitting = [reading for reading in content.code_readings if reading.fits]
    if house is not None and len(fitting) > 1:
        # The first heater went in when the house was finished, which may settle an ambiguous code.
        meets = [r for r in fitting if r.window.earliest <= house.latest and house.earliest <= r.window.latest]
        fitting = meets or fitting
    if len(fitting) == 1:
        words = describe(fitting[0].made)
        desk.note(
            "installed",
            "installed-from-code",
            f'The code "{content.date_code}" probably says made in {words}; the installation is counted from then.',
            "Give the date if you know better.",
        )
        return replace(content, installed=fitting[0].window, installed_basis=InstalledBasis.CODE)
    if len(fitting) > 1:
        words = "; ".join(reading.words for reading in fitting[:6])
        desk.note(
            "date_code",
            "code-has-several-readings",
            f'The code "{content.date_code}" can mean: {words}.',
            'Pick the one that fits and give it as the date, with "date code" as how you know it.',
        )
    if content.previous_gone is not None:
        installed = replace(content.previous_gone, evidence=DateEvidence.MEMORY)
        desk.note(
            "installed",
            "installed-from-previous",
            f"The installation is taken from when the previous heater went ({describe(content.previous_gone)}).",
        )
        return replace(content, installed=installed, installed_basis=InstalledBasis.PREVIOUS)
    if house is not None:
        desk.note(
            "installed",
            "installed-from-house",
            f"The first heater is taken to be as old as the house (finished in {first_of_house}).",
        )
        return replace(content, installed=house, installed_basis=InstalledBasis.HOUSE)
    return content


def _remarkable(content: Content) -> Iterator[Problem]:
    """What is worth a second look but may well be true."""

    def note(field_: str, key: str, what: str, remedy: str = "") -> Problem:
        return Problem(field=field_, what=what, remedy=remedy, severity=Severity.NOTE, key=key)

    if isinstance(content.last_anode, Dated) and content.anode_work is None:
        yield note(
            "anode_work",
            "anode-work-open",
            "It is not said whether the anode rod was checked or changed; it is kept as checked.",
        )
    if content.anode_work is not None and content.last_anode is None:
        yield note(
            "last_anode", "anode-date-open", "Work on the anode rod without a date cannot be kept.", "Add a year."
        )
    if content.installed and content.warranty_end and content.warranty_years:
        runs = content.installed.years_until(content.warranty_end)
        slack = WARRANTY_YEARS_APART + content.installed.plus_minus_months / 12
        if runs > 0 and abs(runs - content.warranty_years) > slack:
            yield note(
                "warranty_end",
                "warranty-term-and-end",
                f"The warranty's end ({content.warranty_end.isoformat()}) does not go with a term of "
                f"{content.warranty_years:g} years from the installation; the stated end counts.",
            )
    if content.consent is Tri.UNKNOWN:
        yield note(
            "consent",
            "consent-open",
            "Consent was left open.",
            "Ask before the home is contacted or counted among those that take part.",
        )


def _overrule(problem: Problem, overruled: Mapping[str, str]) -> Problem:
    if problem.severity is Severity.NOTE or not problem.overrulable:
        return problem
    reason = plain(str(overruled.get(problem.key) or overruled.get(OVERRULE_ALL) or ""))[:LONGEST_TEXT]
    return replace(problem, overruled_because=reason) if reason else problem


def _left_open_when_overruled(content: Content, problems: list[Problem], today: date) -> Content:
    """No date after today goes on from here, whatever the reason for it."""
    late = {problem.field for problem in problems if problem.key.endswith("-in-future")}
    changes: dict[str, None] = {name: None for name in FUTURE_FIELDS if name in late}
    if "installed" in changes:
        changes["installed_basis"] = None
    content = replace(content, **changes) if changes else content  # type: ignore[arg-type]
    return replace(content, answered_on=today) if content.answered_on > today else content
