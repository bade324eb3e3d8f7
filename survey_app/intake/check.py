"""One answer checked: a record and what it says, or every problem at once."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import replace
from datetime import date, datetime

from survey_app.intake.content import Checked, Problem, Severity
from survey_app.intake.contradictions import contradictions
from survey_app.intake.reading import LONGEST_TEXT, given_texts, understand
from survey_app.intake.values import plain
from survey_app.intake.wording import Finding
from survey_app.records import Answer, AnswerChannel
from survey_app.texts import ENGLISH, Texts

__all__ = ["OVERRULE_ALL", "answer_id_of", "check"]

OVERRULE_ALL = "*"
"""A key of `overruled` whose reason stands for every problem of the answer (one cell of a mend file)."""
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
    texts = given_texts(given)
    if "address" not in texts:
        missing = Finding.of("address", "address-missing", Severity.ERROR)
        return Checked(answer=None, content=None, problems=(missing.told(say),))
    read = understand(texts, today=today, house_year=house_year)
    findings = list(read.findings)
    if read.content.refused:
        texts = {key: texts[key] for key in _KEPT_OF_A_REFUSAL if key in texts}
    else:
        findings += contradictions(read.as_stated, house_year=house_year, today=today)
    problems = [_overrule(one.told(say), overruled or {}) for one in findings]
    problems.sort(key=lambda one: not one.key.startswith("safety:"))
    answer = None
    if not any(one.blocking for one in problems):
        answer = Answer(
            answer_id=answer_id or answer_id_of(texts),
            home_id=home_id,
            address_as_typed=texts["address"],
            channel=channel,
            submitted_at=submitted_at,
            submitted_by=submitted_by,
            answered_on=read.content.answered_on,
            given=texts,
            overruled={p.key: p.overruled_because for p in problems if p.overruled_because},
        )
    return Checked(answer=answer, content=read.content, problems=tuple(problems))


def answer_id_of(given: Mapping[str, str]) -> str:
    """An id made from what was given: the same content has the same id, whatever its case and spacing."""
    lines = [f"{key}={' '.join(given[key].casefold().split())}" for key in sorted(given) if given[key].strip()]
    return "a" + hashlib.sha256("\n".join(lines).encode("utf-8", "replace")).hexdigest()[:20]


def _overrule(found: Problem, overruled: Mapping[str, str]) -> Problem:
    if found.severity is Severity.NOTE or not found.overrulable:
        return found
    reason = plain(str(overruled.get(found.key) or overruled.get(OVERRULE_ALL) or ""))[:LONGEST_TEXT]
    return replace(found, overruled_because=reason) if reason else found
