"""The tables, in portable types only, so that SQLite and PostgreSQL hold the same.

Each is the record that its rows are (:mod:`.rows` says which field is which column),
so a simple field more on a record is a column more here, and needs a step in
``migrations/versions``; a test compares the two. Geometry is well-known binary in
WGS 84.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sqlalchemy import Index, MetaData

from survey_app.records import (
    ContactNote,
    Event,
    Heater,
    Home,
    OfferReply,
    Parcel,
    Phase,
    PlatePhoto,
    ServiceRecord,
    Visit,
)
from survey_app.store.entries import (
    AccessCode,
    Account,
    Change,
    CommunityState,
    JoinCandidate,
    KeptBid,
    KeptInvitation,
    KeptRounds,
    KeptServicePlan,
    Sheet,
    SignInTry,
    StoredAnswer,
    StreetLine,
)
from survey_app.store.rows import Kept

__all__ = [
    "ACCESS_CODE",
    "ACCOUNT",
    "ANSWER",
    "BID",
    "CHANGE_LOG",
    "COMMUNITY",
    "CONTACT_NOTE",
    "EVENT",
    "HEATER",
    "HOME",
    "INVITATION",
    "JOIN_CANDIDATE",
    "KEPT_BY_RECORD",
    "KEPT_BY_TABLE",
    "OFFER_REPLY",
    "PARCEL",
    "PHASE",
    "PLATE_PHOTO",
    "PURCHASE_PLAN",
    "SERVICE_PLAN",
    "SERVICE_RECORD",
    "SHEET",
    "SIGN_IN_TRY",
    "STREET",
    "VISIT",
    "metadata",
]

metadata = MetaData(
    naming_convention={
        "ix": "ix_%(table_name)s_%(column_0_name)s",
        "fk": "fk_%(table_name)s_%(column_0_name)s",
        "pk": "pk_%(table_name)s",
    }
)
_HOME = {"home_id": "home.home_id"}
_PHASE = {"phase_id": "phase.phase_id"}

COMMUNITY = Kept(CommunityState, "community", metadata, key=["id"], long_text=["settings"])
PHASE = Kept(Phase, "phase", metadata, key=["phase_id"])
PARCEL = Kept(Parcel, "parcel", metadata, key=["parcel_id"], refers=_PHASE)
STREET = Kept(StreetLine, "street", metadata, key=["street_id"])
HOME = Kept(
    Home,
    "home",
    metadata,
    key=["home_id"],
    refers={"parcel_id": "parcel.parcel_id", **_PHASE},
    indexed=["parcel_id", "street"],
)
HEATER = Kept(Heater, "heater", metadata, key=["heater_id"], refers=_HOME, indexed=["home_id"], evidence=["installed"])
SERVICE_RECORD = Kept(
    ServiceRecord,
    "service_record",
    metadata,
    key=["record_id"],
    refers={"heater_id": "heater.heater_id"},
    indexed=["heater_id"],
    long_text=["findings"],
)
ANSWER = Kept(
    StoredAnswer,
    "answer",
    metadata,
    key=["answer_id"],
    refers=_HOME,
    indexed=["home_id", "join_state"],
    long_text=["address_as_typed", "join_why"],
)
JOIN_CANDIDATE = Kept(
    JoinCandidate,
    "join_candidate",
    metadata,
    key=["answer_id", "home_id"],
    refers={"answer_id": "answer.answer_id", **_HOME},
    long_text=["why"],
)
EVENT = Kept(
    Event,
    "event",
    metadata,
    key=["event_id"],
    refers=_HOME,
    indexed=["home_id"],
    renamed={"on": "on_date"},
    long_text=["findings"],
)
SERVICE_PLAN = Kept(KeptServicePlan, "service_plan", metadata, key=["plan_id"])
VISIT = Kept(
    Visit,
    "visit",
    metadata,
    key=["plan_id", "home_id"],
    refers={"plan_id": "service_plan.plan_id", **_HOME},
    renamed={"on": "on_date"},
    long_text=["why"],
)
BID = Kept(KeptBid, "bid", metadata, key=["contractor"])
PURCHASE_PLAN = Kept(KeptRounds, "purchase_plan", metadata, key=["plan_id"])
OFFER_REPLY = Kept(OfferReply, "offer_reply", metadata, key=["home_id"], refers=_HOME)
CONTACT_NOTE = Kept(
    ContactNote,
    "contact_note",
    metadata,
    key=["note_id"],
    refers=_HOME,
    indexed=["home_id"],
    renamed={"on": "on_date", "by": "told_by"},
    long_text=["words"],
)
PLATE_PHOTO = Kept(PlatePhoto, "plate_photo", metadata, key=["photo_id"], refers=_HOME, indexed=["home_id"])
SHEET = Kept(Sheet, "sheet", metadata, key=["home_id"], refers=_HOME)
CHANGE_LOG = Kept(
    Change,
    "change_log",
    metadata,
    key=["change_id"],
    counted=True,
    more=[Index("ix_change_log_subject", "subject_kind", "subject_id")],
)
ACCOUNT = Kept(Account, "account", metadata, key=["name"])
INVITATION = Kept(KeptInvitation, "invitation", metadata, key=["locator"])
SIGN_IN_TRY = Kept(SignInTry, "sign_in_try", metadata, key=["try_id"], indexed=["at"], counted=True)
ACCESS_CODE = Kept(AccessCode, "access_code", metadata, key=["locator"], refers=_HOME, indexed=["home_id"])

KEPT_BY_RECORD: Mapping[type, Kept[Any]] = {
    kept.record_type: kept
    for kept in (
        COMMUNITY,
        PHASE,
        PARCEL,
        STREET,
        HOME,
        HEATER,
        SERVICE_RECORD,
        ANSWER,
        JOIN_CANDIDATE,
        EVENT,
        SERVICE_PLAN,
        VISIT,
        BID,
        PURCHASE_PLAN,
        OFFER_REPLY,
        CONTACT_NOTE,
        PLATE_PHOTO,
        SHEET,
        CHANGE_LOG,
        ACCOUNT,
        INVITATION,
        SIGN_IN_TRY,
        ACCESS_CODE,
    )
}
"""The table of each record."""
KEPT_BY_TABLE: Mapping[str, Kept[Any]] = {kept.table.name: kept for kept in KEPT_BY_RECORD.values()}
"""The same by the table's name."""
