"""One answer read: what each question was answered with, and what was found on the way.

Every question is read by its kind, so that a new one needs nothing here. What
is read from several questions together stays explicit: the installation date
and what stands in for it, and "none" beside a symptom.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from functools import lru_cache

from survey_app.date_codes import Beside, Reading, installed_after, probable, readings
from survey_app.intake.content import NEVER, Content, InstalledBasis, Said, Severity
from survey_app.intake.kinds import Kind, Question
from survey_app.intake.questions import KEYS, QUESTIONS, question
from survey_app.intake.spellings import CAME_WITH_THE_HOUSE
from survey_app.intake.values import plain, read_choice, read_choices, read_number, simplify
from survey_app.intake.wording import Finding, Words, amount, day
from survey_app.records import Answer, Dated, DateEvidence, EndCause, Symptom, Tri
from survey_app.symptoms import leading
from survey_app.texts import Message, Texts
from survey_app.typed_dates import DateReading, ReadDate, add_months, describe, from_memory, read_date

__all__ = ["HAPPENED", "LONGEST_TEXT", "Understood", "content_of", "given_texts", "understand"]

LONGEST_TEXT = 2_000
"""Longer remarks are cut; nobody writes more on a form, and a paste by mistake should not fill the store."""
LONGEST_SHOWN = 60
BUILDING_MONTHS = 3
"""A builder puts the heater in up to so long before the house is finished (common practice, no source)."""
WARRANTY_YEARS_APART = 2.0
"""A stated term and a stated end may differ by this before it is mentioned (common practice, no source)."""
REMEMBERED = 4_096
"""Answers whose reading is kept: one that is sent is looked at up to four times within a second."""
HAPPENED = tuple(one.key for one in QUESTIONS if one.is_date and not one.may_be_future and one.key != "answered_on")
"""Dates of things that have happened, so that none may lie ahead."""
ASKED_YEAR_OR_AGE = ("installed", "previous_gone", "moved_in")
"""Questions where "15" may as well mean 15 years ago; of a flush or a test nobody speaks so."""
_TOLD_AS_TEXT = tuple(one.key for one in QUESTIONS if one.kind is Kind.TEXT)


@dataclass(frozen=True, slots=True, kw_only=True)
class Understood:
    """One answer, read.

    Parameters
    ----------
    content
        What it says, dates that have not come yet left out.
    as_stated
        The same with them, to be held against one another.
    findings
        What could not be read, what was assumed, what wants a second look; not yet told to anybody.
    """

    content: Content
    as_stated: Content
    findings: tuple[Finding, ...]


def given_texts(given: Mapping[str, str]) -> dict[str, str]:
    """The texts of an answer as they are kept: known questions alone, put right, blanks left out."""
    texts = {key: plain(str(given[key] or "")[: 10 * LONGEST_TEXT])[:LONGEST_TEXT] for key in KEYS if key in given}
    return {key: text for key, text in texts.items() if text}


def understand(texts: Mapping[str, str], *, today: date, house_year: int | None) -> Understood:
    """Read the texts of one answer, each answer once however often it is asked for.

    Parameters
    ----------
    texts
        From :func:`given_texts`, with an address.
    today
        The day of the check.
    house_year
        The year the house was finished; None where nobody knows.
    """
    read = tuple((key, texts[key]) for key in KEYS if key in texts and key not in _TOLD_AS_TEXT)
    found = _understood(read, today, house_year)
    # Names, phones and remarks are passed through: what is remembered says nothing of whose heater it is.
    plainly: dict[str, Said] = {key: texts[key] for key in _TOLD_AS_TEXT if key in texts and key != "address"}

    def whole(content: Content) -> Content:
        said = content.said if content.refused else {**content.said, **plainly}
        return replace(content, address=texts["address"], said=said)

    return Understood(content=whole(found.content), as_stated=whole(found.as_stated), findings=found.findings)


def content_of(answer: Answer, *, house_year: int | None) -> Content | None:
    """What a stored answer says, read as on the day it was taken; None without an address."""
    if not answer.given.get("address"):
        return None
    today = max(answer.answered_on, answer.submitted_at.date())
    return understand(answer.given, today=today, house_year=house_year).content


@lru_cache(maxsize=REMEMBERED)
def _understood(read: tuple[tuple[str, str], ...], today: date, house_year: int | None) -> Understood:
    desk = _Desk(texts=dict(read), today=today, base=today, house_year=house_year)
    answered_on = desk.one_day(question("answered_on")) or today
    if desk.choice(question("consent")) == Tri.NO:
        desk.note("consent", "refused")
        stated = Content(address="", answered_on=answered_on, said={"consent": Tri.NO})
    else:
        desk.findings = [one for one in desk.findings if one.field != "consent"]
        desk.base = min(answered_on, today)
        stated = _with_installation(desk, Content(address="", answered_on=answered_on, said=_said(desk)), house_year)
        _remarkable(desk, stated)
    content = _as_remembered(_without_what_lies_ahead(stated, today), house_year, desk.base)
    return Understood(content=content, as_stated=stated, findings=tuple(desk.findings))


def _said(desk: _Desk) -> dict[str, Said]:
    """Every question read by its kind."""
    said: dict[str, Said] = {}
    for asked in QUESTIONS:
        if asked.key not in desk.texts or asked.key == "answered_on" or _with_the_house(asked, desk.texts[asked.key]):
            continue
        value = _symptoms(desk) if asked.key == "symptoms" else desk.read(asked)
        if value is not None:
            said[asked.key] = value
    return said


def _with_the_house(asked: Question, text: str) -> bool:
    """Whether the date of the installation is told by naming the house instead."""
    return asked.key == "installed" and simplify(text) in CAME_WITH_THE_HOUSE


@dataclass(slots=True)
class _Desk:
    """The texts being read, and what was found on the way."""

    texts: Mapping[str, str]
    today: date
    base: date
    """The day from which "last year" counts."""
    house_year: int | None
    findings: list[Finding] = field(default_factory=list)

    def note(self, field_: str, key: str, words: Words | None = None, *, message: str | None = None) -> None:
        self._find(field_, key, Severity.NOTE, message, words)

    def unreadable(self, asked: Question, typed: str, remedy: Words) -> None:
        """An answer that cannot be read, which a reason leaves open; `remedy` is what to write instead."""
        shown = typed if len(typed) <= LONGEST_SHOWN else typed[: LONGEST_SHOWN - 3] + "..."

        def words(say: Texts) -> Mapping[str, str]:
            return {"typed": shown, "question": asked.text(say), "why": "", **remedy(say)}

        severity, message = (Severity.NOTE, "problem-unreadable-minor") if asked.minor else (Severity.ERROR, None)
        self._find(asked.key, f"{asked.key}-unreadable", severity, message, words)

    def read(self, asked: Question) -> Said | None:
        """What a question was answered with; None where it was left open or cannot be read."""
        if asked.one_of:
            return self.choice(asked)
        if asked.any_of:
            return self.choices(asked) or None
        if asked.kind is Kind.NUMBER:
            return self.number(asked)
        if asked.one_day:
            return self.one_day(asked)
        if asked.is_date:
            return self.window(asked)
        return self.texts[asked.key]

    def choice(self, asked: Question) -> str | None:
        read = read_choice(asked.key, self.texts.get(asked.key, ""))
        for part in read.wrong:
            self.unreadable(asked, part, lambda say: {"remedy": say("problem-choose", choices=asked.allowed(say))})
        self._read_as(asked, read.noted)
        return asked.stored(read.values[0]) if read.values else None

    def choices(self, asked: Question) -> tuple[str, ...]:
        read = read_choices(asked.key, self.texts[asked.key])
        for part in read.wrong:
            self.unreadable(asked, part, lambda say: {"remedy": say("problem-choose-any", choices=asked.allowed(say))})
        self._read_as(asked, read.noted)
        return tuple(map(asked.stored, read.values))

    def number(self, asked: Question) -> float | None:
        text = self.texts[asked.key]
        read = read_number(asked.key, text)
        if read.wrong:
            self.unreadable(asked, text, lambda say: {"remedy": say("problem-write-number")})
        self._read_as(asked, (read.noted,) if read.noted else ())
        return read.value

    def window(self, asked: Question) -> Said | None:
        read = self._dated(asked)
        return NEVER if asked.never and read.kind is DateReading.NEVER else read.dated

    def one_day(self, asked: Question) -> date | None:
        """The one day of a date, the middle of a window."""
        read = self._dated(asked)
        return (read.preferred or read.dated.best) if read.dated else None

    def _dated(self, asked: Question) -> ReadDate:
        text = self.texts.get(asked.key, "")
        read = read_date(text, today=self.base, may_be_future=asked.may_be_future)
        if read.kind is DateReading.UNREADABLE:
            self.unreadable(asked, text, lambda say: _what_to_write(read, say))
        elif read.kind is DateReading.NEVER and not asked.never and not asked.never_is_open:
            self.unreadable(asked, text, lambda say: {"remedy": say("problem-give-date")})
        elif read.age is not None and self._may_be_an_age(asked, read.age):
            words = _year_or_age(asked, text, read)
            self._find(asked.key, f"{asked.key}-year-or-age", Severity.CONTRADICTION, None, words)
        elif (noted := read.noted) is not None:
            self.note(
                asked.key,
                f"{asked.key}-read-as",
                lambda say: {"typed": text, "question": asked.text(say), "how": noted.said(say)},
                message="problem-date-read-as",
            )
        return read

    def _may_be_an_age(self, asked: Question, age: Dated) -> bool:
        """Whether two digits may be an age: where it is not older than the house."""
        since = self.house_year - 1 if self.house_year is not None else date.min.year
        return asked.key in ASKED_YEAR_OR_AGE and age.latest.year >= since

    def _read_as(self, asked: Question, noted: Iterable[Message]) -> None:
        """Say how something was read, where a choice was made for the writer."""
        if some := tuple(noted):
            self.note(asked.key, f"{asked.key}-read-as", lambda say: {"how": " ".join(one.said(say) for one in some)})

    def _find(self, field_: str, key: str, severity: Severity, message: str | None, words: Words | None) -> None:
        self.findings.append(
            Finding.of(field_, key, severity, words, message=message, overrulable=severity is not Severity.NOTE)
        )


def _year_or_age(asked: Question, text: str, read: ReadDate) -> Words:
    assert read.dated is not None
    assert read.age is not None  # else nothing is asked
    year, then = str(read.dated.best.year), str(read.age.best.year)
    words = {"typed": text, "year": year, "years": year[-2:], "then": then}
    return lambda say: {"question": asked.text(say), **words}


def _what_to_write(read: ReadDate, say: Texts) -> Mapping[str, str]:
    return {
        "why": f" {read.noted.said(say)}" if read.noted else "",
        "remedy": read.to_write.said(say) if read.to_write else "",
    }


def _symptoms(desk: _Desk) -> tuple[Symptom, ...] | None:
    """The symptoms; none of them where "none" alone was said, None where nothing was."""
    chosen = desk.choices(question("symptoms"))
    symptoms = tuple(one for one in chosen if isinstance(one, Symptom))
    if symptoms and len(symptoms) < len(chosen):
        desk.note("symptoms", "symptoms-and-none")
    pressing = [row.symptom for row in leading(symptoms) if row.comes_first]
    for symptom in (*pressing, *((Symptom.LEAK,) if Symptom.LEAK in symptoms else ())):
        desk.note("symptoms", f"safety:{symptom.value}", lambda say: {"rest": say("problem-safety-code-first")})
    return symptoms if chosen else None


def _with_installation(desk: _Desk, content: Content, house_year: int | None) -> Content:
    """The content with its installation date: as stated, or from the next best thing that was told."""
    evidence = content.the("installed_evidence", DateEvidence)
    if _with_the_house(question("installed"), desk.texts.get("installed", "")):
        evidence = DateEvidence.HOUSE_COMPLETION
    is_first = content.number_in_home == 1 or (
        evidence is DateEvidence.HOUSE_COMPLETION and content.number_in_home is None
    )
    if content.installed is not None:
        installed = _as_evidenced(content.installed, evidence or DateEvidence.MEMORY, desk.today)
        content = _installed(content, installed, InstalledBasis.STATED)
    content = replace(content, code_readings=_code_readings(desk, content, house_year, is_first=is_first))
    if content.installed is not None:
        return content
    return _installation_inferred(desk, content, house_year if is_first else None)


def _as_evidenced(stated: Dated, evidence: DateEvidence, today: date) -> Dated:
    """When a heater went in, from the date that was stated: that of its making, of the house, or its own."""
    if evidence in (DateEvidence.DATA_PLATE, DateEvidence.DATE_CODE):
        return installed_after(stated, today=max(today, stated.earliest), evidence=evidence)
    if evidence is DateEvidence.HOUSE_COMPLETION:
        return replace(stated, earliest=add_months(stated.earliest, -BUILDING_MONTHS), evidence=evidence)
    return replace(stated, evidence=evidence)


def _code_readings(desk: _Desk, content: Content, house_year: int | None, *, is_first: bool) -> tuple[Reading, ...]:
    """What the code can mean, checked against all that was told beside it."""
    code = content.date_code
    if not code:
        return ()
    saw_it_go = content.previous_end not in (None, EndCause.UNKNOWN)
    beside = Beside(
        first=is_first or (None if content.number_in_home is None else False),
        previous_gone=content.previous_gone,
        moved_in=content.moved_in if saw_it_go else None,
        stated=_as_remembered(content, house_year, desk.base).installed,
    )
    found = readings(code, house_year=house_year, today=desk.today, beside=beside)
    if not any(reading.possible for reading in found):
        message = "problem-code-without-reading" if house_year is None else "problem-code-without-reading-house"
        desk.note(
            "date_code",
            "code-without-reading",
            lambda _: {"code": code[:40], "year": str(house_year)},
            message=message,
        )
    return found


def _installation_inferred(desk: _Desk, content: Content, first_of_house: int | None) -> Content:
    """An installation date that was left open, from the code, the previous heater or the house."""
    house = None
    if first_of_house is not None and first_of_house <= desk.today.year and first_of_house >= 1:
        year_end = min(date(first_of_house, 12, 31), desk.today)
        house = Dated(earliest=date(first_of_house, 1, 1), latest=year_end, evidence=DateEvidence.HOUSE_COMPLETION)
    code, taken, meanings = content.date_code, probable(content.code_readings), content.code_meanings
    if taken is not None:
        made = taken.made
        desk.note("installed", "installed-from-code", lambda say: {"code": code, "made": describe(made, say)})
        return _installed(content, taken.window, InstalledBasis.CODE)

    def said(say: Texts) -> dict[str, str]:
        return {"code": code, "readings": "; ".join(one.words_in(say) for one in meanings)}

    if len(meanings) > 1:
        desk.note("date_code", "code-has-several-readings", said)
    elif meanings:
        desk.note("date_code", "code-has-one-reading", said)
    gone = content.previous_gone
    if gone is not None:
        desk.note("installed", "installed-from-previous", lambda say: {"when": describe(gone, say)})
        return _installed(content, replace(gone, evidence=DateEvidence.MEMORY), InstalledBasis.PREVIOUS)
    if house is not None:
        desk.note("installed", "installed-from-house", lambda _: {"year": str(first_of_house)})
        return _installed(content, house, InstalledBasis.HOUSE)
    return content


def _installed(content: Content, when: Dated, basis: InstalledBasis) -> Content:
    return replace(content, said={**content.said, "installed": when}, installed_basis=basis)


def _as_remembered(content: Content, house_year: int | None, on: date) -> Content:
    """The content with a year of installation that is told from memory made as wide as memory is."""
    told = content.installed
    if told is None:
        return content
    content = replace(content, installed_as_told=told)
    if told.evidence is not DateEvidence.MEMORY:
        return content
    wide = from_memory(told, on=on)
    if house_year is not None and date.min.year < house_year <= told.earliest.year:
        if content.number_in_home in (None, 1) and told.earliest.year <= house_year + 1:
            return content  # The house says the same.
        builder = add_months(date(house_year, 1, 1), -BUILDING_MONTHS)
        wide = replace(wide, earliest=max(wide.earliest, builder))
    return replace(content, said={**content.said, "installed": wide})


def _remarkable(desk: _Desk, content: Content) -> None:
    """What is worth a second look but may well be true."""
    if isinstance(content.last_anode, Dated) and content.anode_work is None:
        desk.note("anode_work", "anode-work-open")
    if content.anode_work is not None and content.last_anode is None:
        desk.note("last_anode", "anode-date-open")
    if content.installed and content.warranty_end and content.warranty_years:
        end, years = content.warranty_end, content.warranty_years
        runs = content.installed.years_until(end)
        slack = WARRANTY_YEARS_APART + content.installed.plus_minus_months / 12
        if runs > 0 and abs(runs - years) > slack:
            desk.note(
                "warranty_end",
                "warranty-term-and-end",
                lambda say: {"end": day(end, say), "years": amount(years, say)},
            )
    if content.consent is Tri.UNKNOWN:
        desk.note("consent", "consent-open")


def _without_what_lies_ahead(content: Content, today: date) -> Content:
    """No date after today goes on from here, whatever the reason for it."""
    ahead = {key for key in HAPPENED if (when := content.the(key, Dated)) is not None and when.earliest > today}
    if ahead:
        said = {key: value for key, value in content.said.items() if key not in ahead}
        content = replace(content, said=said, installed_basis=None if "installed" in ahead else content.installed_basis)
    return replace(content, answered_on=today) if content.answered_on > today else content
