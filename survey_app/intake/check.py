"""One answer checked: a record and what it says, or every problem at once."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
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
from survey_app.intake.wording import allowed, amount, day, problem, question_text
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
from survey_app.texts import ENGLISH, Message, Texts
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
    say: Texts = ENGLISH,
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
    say
        The language in which problems are told; what is found is the same in all.

    Returns
    -------
    Checked
        Never raises on any text. ``answer`` is None while a problem blocks it.
    """
    texts = {key: plain(str(given[key] or "")[: 10 * LONGEST_TEXT])[:LONGEST_TEXT] for key in KEYS if key in given}
    texts = {key: text for key, text in texts.items() if text}
    desk = _Desk(texts=texts, today=today, say=say)
    if "address" not in texts:
        desk.error("address", "address-missing")
        return Checked(answer=None, content=None, problems=tuple(desk.problems))

    answered_on = _answered_on(desk)
    desk.answered_on = min(answered_on, today)
    if desk.tri("consent") is Tri.NO:
        texts = {key: texts[key] for key in _KEPT_OF_A_REFUSAL if key in texts}
        desk.problems = [one for one in desk.problems if one.field in _KEPT_OF_A_REFUSAL]
        desk.note("consent", "refused")
        content = Content(address=texts["address"], answered_on=answered_on, consent=Tri.NO)
    else:
        desk.problems = []
        answered_on = _answered_on(desk)
        content = _read_content(desk, answered_on, house_year)
        desk.problems.extend(contradictions(content, house_year=house_year, today=today, say=say))

    problems = [_overrule(one, overruled or {}) for one in desk.problems]
    problems.sort(key=lambda one: not one.key.startswith("safety:"))
    content = _left_open_when_overruled(content, problems, today)
    answer = None
    if not any(one.blocking for one in problems):
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
    say: Texts
    answered_on: date = date.max
    problems: list[Problem] = field(default_factory=list)

    def error(self, field_: str, key: str, *, overrulable: bool = False, **values: str) -> None:
        self.problems.append(problem(field_, key, Severity.ERROR, self.say, overrulable=overrulable, **values))

    def note(self, field_: str, key: str, message: str | None = None, **values: str) -> None:
        found = problem(field_, key, Severity.NOTE, self.say, message=message, overrulable=False, **values)
        self.problems.append(found)

    def unreadable(self, key: str, typed: str, remedy: str, why: str = "") -> None:
        shown = typed if len(typed) <= 60 else typed[:57] + "..."
        asked = question(key)
        if asked.minor:
            self.note(key, f"{key}-unreadable", "problem-unreadable-minor", typed=shown, remedy=remedy)
            return
        self.error(
            key,
            f"{key}-unreadable",
            overrulable=True,
            typed=shown,
            question=question_text(asked, self.say),
            why=f" {why}" if why else "",
            remedy=remedy,
        )

    def read_as(self, key: str, noted: Iterable[Message]) -> None:
        """Say how something was read, where a choice was made for the writer."""
        if how := " ".join(one.said(self.say) for one in noted):
            self.note(key, f"{key}-read-as", how=how)

    def choice(self, key: str) -> str | None:
        """The stored value of a choice, None where open or unreadable."""
        read = read_choice(key, self.texts.get(key, ""))
        for part in read.wrong:
            self.unreadable(key, part, self.say("problem-choose", choices=allowed(question(key), self.say)))
        self.read_as(key, read.noted)
        return read.values[0] if read.values else None

    def choices(self, key: str) -> tuple[str, ...]:
        read = read_choices(key, self.texts.get(key, ""))
        for part in read.wrong:
            self.unreadable(key, part, self.say("problem-choose-any", choices=allowed(question(key), self.say)))
        self.read_as(key, read.noted)
        return read.values

    def tri(self, key: str) -> Tri:
        return Tri(self.choice(key) or Tri.UNKNOWN)

    def interest(self, key: str) -> Interest:
        return Interest(self.choice(key) or Interest.UNKNOWN)

    def number(self, key: str) -> float | None:
        text = self.texts.get(key, "")
        read = read_number(key, text)
        if read.wrong:
            self.unreadable(key, text, self.say("problem-write-number"))
        self.read_as(key, (read.noted,) if read.noted else ())
        return read.value

    def read_date(self, key: str) -> ReadDate:
        asked = question(key)
        text = self.texts.get(key, "")
        base = self.today if self.answered_on == date.max else self.answered_on
        read = read_date(text, today=base, may_be_future=asked.may_be_future)
        if read.kind is DateReading.UNREADABLE:
            why, remedy = (one.said(self.say) if one else "" for one in (read.noted, read.to_write))
            self.unreadable(key, text, remedy, why)
        elif read.kind is DateReading.NEVER and not asked.never and key not in ("previous_gone", "warranty_end"):
            self.unreadable(key, text, self.say("problem-give-date"))
        elif read.noted:
            words = {"typed": text, "question": question_text(asked, self.say), "how": read.noted.said(self.say)}
            self.note(key, f"{key}-read-as", "problem-date-read-as", **words)
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
    _remarkable(desk, content)
    return content


_NUMBER_IN_HOME: Mapping[str, Literal[1, 2, 3]] = {"first": 1, "second": 2, "third or later": 3}


def _symptoms(desk: _Desk) -> tuple[tuple[Symptom, ...], bool]:
    chosen = desk.choices("symptoms")
    symptoms = tuple(Symptom(value) for value in chosen if value != "none")
    if symptoms and "none" in chosen:
        desk.note("symptoms", "symptoms-and-none")
    pressing = [symptom for symptom in symptoms if symptom.comes_first]
    for symptom in (*pressing, *((Symptom.LEAK,) if Symptom.LEAK in symptoms else ())):
        desk.note("symptoms", f"safety:{symptom.value}", rest=desk.say("problem-safety-code-first"))
    return symptoms, chosen == ("none",)


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
                "problem-code-without-reading" if house_year is None else "problem-code-without-reading-house",
                code=content.date_code[:40],
                year=str(house_year),
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
        made = describe(fitting[0].made, desk.say)
        desk.note("installed", "installed-from-code", code=content.date_code, made=made)
        return replace(content, installed=fitting[0].window, installed_basis=InstalledBasis.CODE)
    if len(fitting) > 1:
        words = "; ".join(reading.words_in(desk.say) for reading in fitting[:6])
        desk.note("date_code", "code-has-several-readings", code=content.date_code, readings=words)
    if content.previous_gone is not None:
        installed = replace(content.previous_gone, evidence=DateEvidence.MEMORY)
        desk.note("installed", "installed-from-previous", when=describe(content.previous_gone, desk.say))
        return replace(content, installed=installed, installed_basis=InstalledBasis.PREVIOUS)
    if house is not None:
        desk.note("installed", "installed-from-house", year=str(first_of_house))
        return replace(content, installed=house, installed_basis=InstalledBasis.HOUSE)
    return content


def _remarkable(desk: _Desk, content: Content) -> None:
    """What is worth a second look but may well be true."""
    if isinstance(content.last_anode, Dated) and content.anode_work is None:
        desk.note("anode_work", "anode-work-open")
    if content.anode_work is not None and content.last_anode is None:
        desk.note("last_anode", "anode-date-open")
    if content.installed and content.warranty_end and content.warranty_years:
        runs = content.installed.years_until(content.warranty_end)
        slack = WARRANTY_YEARS_APART + content.installed.plus_minus_months / 12
        if runs > 0 and abs(runs - content.warranty_years) > slack:
            end, years = day(content.warranty_end, desk.say), amount(content.warranty_years, desk.say)
            desk.note("warranty_end", "warranty-term-and-end", end=end, years=years)
    if content.consent is Tri.UNKNOWN:
        desk.note("consent", "consent-open")


def _overrule(found: Problem, overruled: Mapping[str, str]) -> Problem:
    if found.severity is Severity.NOTE or not found.overrulable:
        return found
    reason = plain(str(overruled.get(found.key) or overruled.get(OVERRULE_ALL) or ""))[:LONGEST_TEXT]
    return replace(found, overruled_because=reason) if reason else found


def _left_open_when_overruled(content: Content, problems: list[Problem], today: date) -> Content:
    """No date after today goes on from here, whatever the reason for it."""
    late = {one.field for one in problems if one.key.endswith("-in-future")}
    changes: dict[str, None] = {name: None for name in FUTURE_FIELDS if name in late}
    if "installed" in changes:
        changes["installed_basis"] = None
    content = replace(content, **changes) if changes else content  # type: ignore[arg-type]
    return replace(content, answered_on=today) if content.answered_on > today else content
