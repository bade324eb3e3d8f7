"""The tables, in portable types only, so that SQLite and PostgreSQL hold the same.

Dates known roughly are two columns, ``*_earliest`` and ``*_latest``, with the
evidence beside them. Geometry is well-known binary in WGS 84. A change here
needs a step in ``migrations/versions``; a test compares the two.
"""

from __future__ import annotations

from sqlalchemy import (
    JSON,
    Boolean,
    Column,
    Date,
    DateTime,
    Float,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    Text,
)

__all__ = [
    "access_code",
    "account",
    "answer",
    "bid",
    "change_log",
    "community",
    "contact_note",
    "event",
    "heater",
    "home",
    "join_candidate",
    "metadata",
    "offer_reply",
    "parcel",
    "phase",
    "purchase_plan",
    "service_plan",
    "service_record",
    "sheet",
    "street",
    "visit",
]

metadata = MetaData(
    naming_convention={
        "ix": "ix_%(table_name)s_%(column_0_name)s",
        "fk": "fk_%(table_name)s_%(column_0_name)s",
        "pk": "pk_%(table_name)s",
    }
)

community = Table(
    "community",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("name", String, nullable=False),
    Column("synthetic", Boolean, nullable=False),
    Column("open_doors", Boolean, nullable=False),
    Column("local_epsg", Integer),
    Column("settings", Text, nullable=False),
    Column("data_version", Integer, nullable=False),
    Column("changed_at", DateTime, nullable=False),
)

phase = Table(
    "phase",
    metadata,
    Column("phase_id", String, primary_key=True),
    Column("first_built_year", Integer),
    Column("last_built_year", Integer),
)

parcel = Table(
    "parcel",
    metadata,
    Column("parcel_id", String, primary_key=True),
    Column("address", String, nullable=False),
    Column("built_year", Integer),
    Column("phase_id", String, ForeignKey("phase.phase_id")),
    Column("land_use", String),
    Column("lon", Float, nullable=False),
    Column("lat", Float, nullable=False),
    Column("area_m2", Float, nullable=False),
    Column("outline_wkb", LargeBinary, nullable=False),
)

street = Table(
    "street",
    metadata,
    Column("street_id", Integer, primary_key=True),
    Column("name", String, nullable=False),
    Column("kind", String, nullable=False),
    Column("line_wkb", LargeBinary, nullable=False),
)

home = Table(
    "home",
    metadata,
    Column("home_id", String, primary_key=True),
    Column("parcel_id", String, ForeignKey("parcel.parcel_id"), nullable=False, index=True),
    Column("address", String, nullable=False),
    Column("street", String, nullable=False, index=True),
    Column("phase_id", String, ForeignKey("phase.phase_id")),
    Column("built_year", Integer),
    Column("moved_in_earliest", Date),
    Column("moved_in_latest", Date),
    Column("softener", String, nullable=False),
)

heater = Table(
    "heater",
    metadata,
    Column("heater_id", String, primary_key=True),
    Column("home_id", String, ForeignKey("home.home_id"), nullable=False, index=True),
    Column("sequence", Integer, nullable=False),
    Column("kind", String, nullable=False),
    Column("tank_gallons", Float),
    Column("installed_earliest", Date),
    Column("installed_latest", Date),
    Column("installed_evidence", String),
    Column("number_in_home", Integer),
    Column("warranty_years", Float),
    Column("warranty_end", Date),
    Column("removed_earliest", Date),
    Column("removed_latest", Date),
    Column("end_cause", String),
    Column("place", String, nullable=False),
    Column("pan", String, nullable=False),
    Column("leak_alarm", String, nullable=False),
    Column("auto_shutoff", String, nullable=False),
    Column("expansion_tank", String, nullable=False),
    Column("symptoms", JSON, nullable=False),
    Column("never_done", JSON, nullable=False),
)

service_record = Table(
    "service_record",
    metadata,
    Column("record_id", String, primary_key=True),
    Column("heater_id", String, ForeignKey("heater.heater_id"), nullable=False, index=True),
    Column("kind", String, nullable=False),
    Column("done_earliest", Date, nullable=False),
    Column("done_latest", Date, nullable=False),
    Column("findings", Text, nullable=False),
)

answer = Table(
    "answer",
    metadata,
    Column("answer_id", String, primary_key=True),
    Column("home_id", String, ForeignKey("home.home_id"), index=True),
    Column("address_as_typed", Text, nullable=False),
    Column("channel", String, nullable=False),
    Column("submitted_at", DateTime, nullable=False),
    Column("submitted_by", String, nullable=False),
    Column("answered_on", Date, nullable=False),
    Column("given", JSON, nullable=False),
    Column("overruled", JSON, nullable=False),
    Column("join_state", String, nullable=False, index=True),
    Column("join_why", Text, nullable=False),
)

join_candidate = Table(
    "join_candidate",
    metadata,
    Column("answer_id", String, ForeignKey("answer.answer_id"), primary_key=True),
    Column("home_id", String, ForeignKey("home.home_id"), primary_key=True),
    Column("score", Float, nullable=False),
    Column("why", Text, nullable=False),
)

event = Table(
    "event",
    metadata,
    Column("event_id", String, primary_key=True),
    Column("home_id", String, ForeignKey("home.home_id"), nullable=False, index=True),
    Column("kind", String, nullable=False),
    Column("on_date", Date, nullable=False),
    Column("told_by", String, nullable=False),
    Column("acts", JSON, nullable=False),
    Column("seen", JSON, nullable=False),
    Column("findings", Text, nullable=False),
    Column("kind_of_heater", String, nullable=False),
    Column("tank_gallons", Float),
    Column("warranty_years", Float),
    Column("end_cause", String),
)

service_plan = Table(
    "service_plan",
    metadata,
    Column("plan_id", String, primary_key=True),
    Column("job", String, nullable=False),
    Column("made_at", DateTime, nullable=False),
    Column("made_by", String, nullable=False),
    Column("asked", JSON, nullable=False),
    Column("planned", JSON, nullable=False),
)

visit = Table(
    "visit",
    metadata,
    Column("plan_id", String, ForeignKey("service_plan.plan_id"), primary_key=True),
    Column("home_id", String, ForeignKey("home.home_id"), primary_key=True),
    Column("on_date", Date),
    Column("confirmed", Boolean, nullable=False),
    Column("outcome", String, nullable=False),
    Column("why", Text, nullable=False),
    Column("findings", JSON, nullable=False),
    Column("closed_by", String, nullable=False),
)

bid = Table(
    "bid",
    metadata,
    Column("contractor", String, primary_key=True),
    Column("content", JSON, nullable=False),
    Column("put_at", DateTime, nullable=False),
    Column("put_by", String, nullable=False),
)

purchase_plan = Table(
    "purchase_plan",
    metadata,
    Column("plan_id", String, primary_key=True),
    Column("made_at", DateTime, nullable=False),
    Column("made_by", String, nullable=False),
    Column("asked", JSON, nullable=False),
    Column("formed", JSON, nullable=False),
)

offer_reply = Table(
    "offer_reply",
    metadata,
    Column("home_id", String, ForeignKey("home.home_id"), primary_key=True),
    Column("says", String, nullable=False),
    Column("limit_usd", Float),
    Column("latest", Date),
    Column("at", DateTime, nullable=False),
    Column("plan_id", String),
    Column("price_usd", Float),
    Column("wants_kind", String),
)

contact_note = Table(
    "contact_note",
    metadata,
    Column("note_id", String, primary_key=True),
    Column("home_id", String, ForeignKey("home.home_id"), nullable=False, index=True),
    Column("on_date", Date, nullable=False),
    Column("outcome", String, nullable=False),
    Column("told_by", String, nullable=False),
    Column("words", Text, nullable=False),
)

plate_photo = Table(
    "plate_photo",
    metadata,
    Column("photo_id", String, primary_key=True),
    Column("home_id", String, ForeignKey("home.home_id"), nullable=False, index=True),
    Column("at", DateTime, nullable=False),
    Column("state", String, nullable=False),
    Column("jpeg", LargeBinary, nullable=False),
)

sheet = Table(
    "sheet",
    metadata,
    Column("home_id", String, ForeignKey("home.home_id"), primary_key=True),
    Column("number", String, nullable=False),
)

change_log = Table(
    "change_log",
    metadata,
    Column("change_id", Integer, primary_key=True, autoincrement=True),
    Column("at", DateTime, nullable=False),
    Column("who", String, nullable=False),
    Column("action", String, nullable=False),
    Column("subject_kind", String, nullable=False),
    Column("subject_id", String, nullable=False),
    Column("before", JSON),
    Column("after", JSON),
    Index("ix_change_log_subject", "subject_kind", "subject_id"),
)

account = Table(
    "account",
    metadata,
    Column("name", String, primary_key=True),
    Column("role", String, nullable=False),
    Column("password_hash", String, nullable=False),
    Column("created_at", DateTime, nullable=False),
)

invitation = Table(
    "invitation",
    metadata,
    Column("locator", String, primary_key=True),
    Column("code_hash", String, nullable=False),
    Column("name", String, nullable=False),
    Column("role", String, nullable=False),
    Column("made_at", DateTime, nullable=False),
    Column("made_by", String, nullable=False),
    Column("expires_at", DateTime, nullable=False),
)

sign_in_try = Table(
    "sign_in_try",
    metadata,
    Column("try_id", Integer, primary_key=True, autoincrement=True),
    Column("at", DateTime, nullable=False, index=True),
    Column("subject", String, nullable=False),
    Column("source", String, nullable=False),
)

access_code = Table(
    "access_code",
    metadata,
    Column("locator", String, primary_key=True),
    Column("home_id", String, ForeignKey("home.home_id"), nullable=False, index=True),
    Column("code_hash", String, nullable=False),
    Column("issued_at", DateTime, nullable=False),
    Column("revoked_at", DateTime),
)
