"""Records to rows and back."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from survey_app.records import (
    Answer,
    AnswerChannel,
    Dated,
    DateEvidence,
    EndCause,
    Event,
    EventKind,
    Heater,
    HeaterKind,
    Home,
    Parcel,
    Phase,
    Place,
    ServiceKind,
    ServiceRecord,
    Symptom,
    Tri,
)

__all__ = [
    "answer_from",
    "answer_row",
    "event_from",
    "event_row",
    "heater_from",
    "heater_row",
    "home_from",
    "home_row",
    "parcel_from",
    "parcel_row",
    "phase_from",
    "phase_row",
    "service_from",
    "service_row",
]

Row = Mapping[str, Any]


def _dated(row: Row, stem: str, evidence: str | None = None) -> Dated | None:
    earliest, latest = row[f"{stem}_earliest"], row[f"{stem}_latest"]
    if earliest is None or latest is None:
        return None
    return Dated(earliest=earliest, latest=latest, evidence=DateEvidence(evidence) if evidence else None)


def _window(stem: str, value: Dated | None) -> dict[str, Any]:
    return {
        f"{stem}_earliest": value.earliest if value else None,
        f"{stem}_latest": value.latest if value else None,
    }


def phase_row(phase: Phase) -> dict[str, Any]:
    """A phase as a row."""
    return {
        "phase_id": phase.phase_id,
        "first_built_year": phase.first_built_year,
        "last_built_year": phase.last_built_year,
    }


def phase_from(row: Row) -> Phase:
    """A row as a phase."""
    return Phase(**{key: row[key] for key in ("phase_id", "first_built_year", "last_built_year")})


_PARCEL = ("parcel_id", "address", "built_year", "phase_id", "land_use", "lon", "lat", "area_m2", "outline_wkb")


def parcel_row(parcel: Parcel) -> dict[str, Any]:
    """A parcel as a row."""
    return {key: getattr(parcel, key) for key in _PARCEL}


def parcel_from(row: Row) -> Parcel:
    """A row as a parcel."""
    return Parcel(**{key: row[key] for key in _PARCEL})


def home_row(home: Home) -> dict[str, Any]:
    """A home as a row."""
    return {
        "home_id": home.home_id,
        "parcel_id": home.parcel_id,
        "address": home.address,
        "street": home.street,
        "phase_id": home.phase_id,
        "built_year": home.built_year,
        **_window("moved_in", home.moved_in),
        "softener": str(home.softener),
    }


def home_from(row: Row) -> Home:
    """A row as a home."""
    return Home(
        home_id=row["home_id"],
        parcel_id=row["parcel_id"],
        address=row["address"],
        street=row["street"],
        phase_id=row["phase_id"],
        built_year=row["built_year"],
        moved_in=_dated(row, "moved_in"),
        softener=Tri(row["softener"]),
    )


_HEATER_PLAIN = (
    "heater_id",
    "home_id",
    "sequence",
    "tank_gallons",
    "number_in_home",
    "warranty_years",
    "warranty_end",
)


def heater_row(heater: Heater) -> dict[str, Any]:
    """A heater as a row."""
    evidence = heater.installed.evidence if heater.installed else None
    return {
        **{key: getattr(heater, key) for key in _HEATER_PLAIN},
        **_window("installed", heater.installed),
        **_window("removed", heater.removed),
        "installed_evidence": str(evidence) if evidence else None,
        "end_cause": str(heater.end_cause) if heater.end_cause else None,
        "kind": str(heater.kind),
        "place": str(heater.place),
        "pan": str(heater.pan),
        "leak_alarm": str(heater.leak_alarm),
        "auto_shutoff": str(heater.auto_shutoff),
        "expansion_tank": str(heater.expansion_tank),
        "symptoms": [str(symptom) for symptom in heater.symptoms],
        "never_done": [str(act) for act in heater.never_done],
    }


def heater_from(row: Row) -> Heater:
    """A row as a heater."""
    return Heater(
        **{key: row[key] for key in _HEATER_PLAIN},
        installed=_dated(row, "installed", row["installed_evidence"]),
        removed=_dated(row, "removed"),
        end_cause=EndCause(row["end_cause"]) if row["end_cause"] else None,
        kind=HeaterKind(row["kind"]),
        place=Place(row["place"]),
        pan=Tri(row["pan"]),
        leak_alarm=Tri(row["leak_alarm"]),
        auto_shutoff=Tri(row["auto_shutoff"]),
        expansion_tank=Tri(row["expansion_tank"]),
        symptoms=tuple(Symptom(symptom) for symptom in row["symptoms"]),
        never_done=tuple(ServiceKind(act) for act in row["never_done"]),
    )


def service_row(record: ServiceRecord) -> dict[str, Any]:
    """A service record as a row."""
    return {
        "record_id": record.record_id,
        "heater_id": record.heater_id,
        "kind": str(record.kind),
        **_window("done", record.done),
        "findings": record.findings,
    }


def service_from(row: Row) -> ServiceRecord:
    """A row as a service record."""
    done = _dated(row, "done")
    assert done is not None  # both columns are NOT NULL
    return ServiceRecord(
        record_id=row["record_id"],
        heater_id=row["heater_id"],
        kind=ServiceKind(row["kind"]),
        done=done,
        findings=row["findings"],
    )


def answer_row(answer: Answer) -> dict[str, Any]:
    """An answer as a row, without how it was joined."""
    return {
        "answer_id": answer.answer_id,
        "home_id": answer.home_id,
        "address_as_typed": answer.address_as_typed,
        "channel": str(answer.channel),
        "submitted_at": answer.submitted_at,
        "submitted_by": answer.submitted_by,
        "answered_on": answer.answered_on,
        "given": dict(answer.given),
        "overruled": dict(answer.overruled),
    }


def answer_from(row: Row) -> Answer:
    """A row as an answer."""
    return Answer(
        answer_id=row["answer_id"],
        home_id=row["home_id"],
        address_as_typed=row["address_as_typed"],
        channel=AnswerChannel(row["channel"]),
        submitted_at=row["submitted_at"],
        submitted_by=row["submitted_by"],
        answered_on=row["answered_on"],
        given=row["given"],
        overruled=row["overruled"],
    )


def event_row(event: Event) -> dict[str, Any]:
    """An event as a row."""
    return {
        "event_id": event.event_id,
        "home_id": event.home_id,
        "kind": str(event.kind),
        "on_date": event.on,
        "told_by": event.told_by,
        "acts": [str(act) for act in event.acts],
        "seen": [str(symptom) for symptom in event.seen],
        "findings": event.findings,
        "kind_of_heater": str(event.kind_of_heater),
        "tank_gallons": event.tank_gallons,
        "warranty_years": event.warranty_years,
        "end_cause": None if event.end_cause is None else str(event.end_cause),
    }


def event_from(row: Row) -> Event:
    """A row as an event."""
    return Event(
        event_id=row["event_id"],
        home_id=row["home_id"],
        kind=EventKind(row["kind"]),
        on=row["on_date"],
        told_by=row["told_by"],
        acts=tuple(ServiceKind(act) for act in row["acts"]),
        seen=tuple(Symptom(symptom) for symptom in row["seen"]),
        findings=row["findings"],
        kind_of_heater=HeaterKind(row["kind_of_heater"]),
        tank_gallons=row["tank_gallons"],
        warranty_years=row["warranty_years"],
        end_cause=None if row["end_cause"] is None else EndCause(row["end_cause"]),
    )
