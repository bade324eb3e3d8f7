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
    Column("name", String(200), nullable=False),
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
    Column("phase_id", String(60), primary_key=True),
    Column("first_built_year", Integer),
    Column("last_built_year", Integer),
)

parcel = Table(
    "parcel",
    metadata,
    Column("parcel_id", String(80), primary_key=True),
    Column("address", String(300), nullable=False),
    Column("built_year", Integer),
    Column("phase_id", String(60), ForeignKey("phase.phase_id")),
    Column("land_use", String(80)),
    Column("lon", Float, nullable=False),
    Column("lat", Float, nullable=False),
    Column("area_m2", Float, nullable=False),
    Column("outline_wkb", LargeBinary, nullable=False),
)

street = Table(
    "street",
    metadata,
    Column("street_id", Integer, primary_key=True),
    Column("name", String(200), nullable=False),
    Column("kind", String(60), nullable=False),
    Column("line_wkb", LargeBinary, nullable=False),
)

home = Table(
    "home",
    metadata,
    Column("home_id", String(100), primary_key=True),
    Column("parcel_id", String(80), ForeignKey("parcel.parcel_id"), nullable=False, index=True),
    Column("address", String(300), nullable=False),
    Column("street", String(200), nullable=False, index=True),
    Column("phase_id", String(60), ForeignKey("phase.phase_id")),
    Column("built_year", Integer),
    Column("moved_in_earliest", Date),
    Column("moved_in_latest", Date),
    Column("softener", String(20), nullable=False),
)

heater = Table(
    "heater",
    metadata,
    Column("heater_id", String(120), primary_key=True),
    Column("home_id", String(100), ForeignKey("home.home_id"), nullable=False, index=True),
    Column("sequence", Integer, nullable=False),
    Column("kind", String(40), nullable=False),
    Column("tank_gallons", Float),
    Column("installed_earliest", Date),
    Column("installed_latest", Date),
    Column("installed_evidence", String(40)),
    Column("number_in_home", Integer),
    Column("warranty_years", Float),
    Column("warranty_end", Date),
    Column("removed_earliest", Date),
    Column("removed_latest", Date),
    Column("end_cause", String(40)),
    Column("place", String(40), nullable=False),
    Column("pan", String(20), nullable=False),
    Column("leak_alarm", String(20), nullable=False),
    Column("auto_shutoff", String(20), nullable=False),
    Column("expansion_tank", String(20), nullable=False),
    Column("symptoms", JSON, nullable=False),
    Column("never_done", JSON, nullable=False),
)

service_record = Table(
    "service_record",
    metadata,
    Column("record_id", String(160), primary_key=True),
    Column("heater_id", String(120), ForeignKey("heater.heater_id"), nullable=False, index=True),
    Column("kind", String(40), nullable=False),
    Column("done_earliest", Date, nullable=False),
    Column("done_latest", Date, nullable=False),
    Column("findings", Text, nullable=False),
)

answer = Table(
    "answer",
    metadata,
    Column("answer_id", String(64), primary_key=True),
    Column("home_id", String(100), ForeignKey("home.home_id"), index=True),
    Column("address_as_typed", Text, nullable=False),
    Column("channel", String(20), nullable=False),
    Column("submitted_at", DateTime, nullable=False),
    Column("submitted_by", String(120), nullable=False),
    Column("answered_on", Date, nullable=False),
    Column("given", JSON, nullable=False),
    Column("overruled", JSON, nullable=False),
    Column("join_state", String(20), nullable=False, index=True),
    Column("join_why", Text, nullable=False),
)

join_candidate = Table(
    "join_candidate",
    metadata,
    Column("answer_id", String(64), ForeignKey("answer.answer_id"), primary_key=True),
    Column("home_id", String(100), ForeignKey("home.home_id"), primary_key=True),
    Column("score", Float, nullable=False),
    Column("why", Text, nullable=False),
)

event = Table(
    "event",
    metadata,
    Column("event_id", String(64), primary_key=True),
    Column("home_id", String(100), ForeignKey("home.home_id"), nullable=False, index=True),
    Column("kind", String(20), nullable=False),
    Column("on_date", Date, nullable=False),
    Column("told_by", String(120), nullable=False),
    Column("acts", JSON, nullable=False),
    Column("seen", JSON, nullable=False),
    Column("findings", Text, nullable=False),
    Column("kind_of_heater", String(40), nullable=False),
    Column("tank_gallons", Float),
    Column("warranty_years", Float),
    Column("end_cause", String(40)),
)

service_plan = Table(
    "service_plan",
    metadata,
    Column("plan_id", String(64), primary_key=True),
    Column("job", String(20), nullable=False),
    Column("made_at", DateTime, nullable=False),
    Column("made_by", String(120), nullable=False),
    Column("asked", JSON, nullable=False),
    Column("planned", JSON, nullable=False),
)

visit = Table(
    "visit",
    metadata,
    Column("plan_id", String(64), ForeignKey("service_plan.plan_id"), primary_key=True),
    Column("home_id", String(100), ForeignKey("home.home_id"), primary_key=True),
    Column("on_date", Date),
    Column("confirmed", Boolean, nullable=False),
    Column("outcome", String(20), nullable=False),
    Column("why", Text, nullable=False),
    Column("findings", JSON, nullable=False),
    Column("closed_by", String(120), nullable=False),
)

bid = Table(
    "bid",
    metadata,
    Column("contractor", String(200), primary_key=True),
    Column("content", JSON, nullable=False),
    Column("put_at", DateTime, nullable=False),
    Column("put_by", String(120), nullable=False),
)

purchase_plan = Table(
    "purchase_plan",
    metadata,
    Column("plan_id", String(64), primary_key=True),
    Column("made_at", DateTime, nullable=False),
    Column("made_by", String(120), nullable=False),
    Column("asked", JSON, nullable=False),
    Column("formed", JSON, nullable=False),
)

offer_reply = Table(
    "offer_reply",
    metadata,
    Column("home_id", String(100), ForeignKey("home.home_id"), primary_key=True),
    Column("says", String(20), nullable=False),
    Column("limit_usd", Float),
    Column("latest", Date),
    Column("at", DateTime, nullable=False),
    Column("plan_id", String(64)),
    Column("price_usd", Float),
)

contact_note = Table(
    "contact_note",
    metadata,
    Column("note_id", String(64), primary_key=True),
    Column("home_id", String(100), ForeignKey("home.home_id"), nullable=False, index=True),
    Column("on_date", Date, nullable=False),
    Column("outcome", String(40), nullable=False),
    Column("told_by", String(120), nullable=False),
    Column("words", Text, nullable=False),
)

sheet = Table(
    "sheet",
    metadata,
    Column("home_id", String(100), ForeignKey("home.home_id"), primary_key=True),
    Column("number", String(20), nullable=False),
)

change_log = Table(
    "change_log",
    metadata,
    Column("change_id", Integer, primary_key=True, autoincrement=True),
    Column("at", DateTime, nullable=False),
    Column("who", String(120), nullable=False),
    Column("action", String(60), nullable=False),
    Column("subject_kind", String(40), nullable=False),
    Column("subject_id", String(160), nullable=False),
    Column("before", JSON),
    Column("after", JSON),
    Index("ix_change_log_subject", "subject_kind", "subject_id"),
)

account = Table(
    "account",
    metadata,
    Column("name", String(120), primary_key=True),
    Column("role", String(20), nullable=False),
    Column("password_hash", String(200), nullable=False),
    Column("created_at", DateTime, nullable=False),
)

invitation = Table(
    "invitation",
    metadata,
    Column("locator", String(12), primary_key=True),
    Column("code_hash", String(200), nullable=False),
    Column("name", String(120), nullable=False),
    Column("role", String(20), nullable=False),
    Column("made_at", DateTime, nullable=False),
    Column("made_by", String(120), nullable=False),
    Column("expires_at", DateTime, nullable=False),
)

sign_in_try = Table(
    "sign_in_try",
    metadata,
    Column("try_id", Integer, primary_key=True, autoincrement=True),
    Column("at", DateTime, nullable=False, index=True),
    Column("subject", String(64), nullable=False),
    Column("source", String(64), nullable=False),
)

access_code = Table(
    "access_code",
    metadata,
    Column("locator", String(12), primary_key=True),
    Column("home_id", String(100), ForeignKey("home.home_id"), nullable=False, index=True),
    Column("code_hash", String(200), nullable=False),
    Column("issued_at", DateTime, nullable=False),
    Column("revoked_at", DateTime),
)
