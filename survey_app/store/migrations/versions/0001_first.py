"""The first tables.

Revision: 0001.
"""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Apply the step."""
    op.create_table(
        "account",
        sa.Column("name", sa.String(length=120), nullable=False),
        sa.Column("role", sa.String(length=20), nullable=False),
        sa.Column("password_hash", sa.String(length=200), nullable=False),
        sa.Column("created_at", sa.DateTime(), nullable=False),
        sa.Column("failed_tries", sa.Integer(), nullable=False),
        sa.Column("locked_until", sa.DateTime(), nullable=True),
        sa.PrimaryKeyConstraint("name", name=op.f("pk_account")),
    )
    op.create_table(
        "change_log",
        sa.Column("change_id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("at", sa.DateTime(), nullable=False),
        sa.Column("who", sa.String(length=120), nullable=False),
        sa.Column("action", sa.String(length=60), nullable=False),
        sa.Column("subject_kind", sa.String(length=40), nullable=False),
        sa.Column("subject_id", sa.String(length=160), nullable=False),
        sa.Column("before", sa.JSON(), nullable=True),
        sa.Column("after", sa.JSON(), nullable=True),
        sa.PrimaryKeyConstraint("change_id", name=op.f("pk_change_log")),
    )
    op.create_index("ix_change_log_subject", "change_log", ["subject_kind", "subject_id"], unique=False)
    op.create_table(
        "community",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(length=200), nullable=False),
        sa.Column("synthetic", sa.Boolean(), nullable=False),
        sa.Column("open_doors", sa.Boolean(), nullable=False),
        sa.Column("local_epsg", sa.Integer(), nullable=True),
        sa.Column("settings", sa.Text(), nullable=False),
        sa.Column("data_version", sa.Integer(), nullable=False),
        sa.Column("changed_at", sa.DateTime(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_community")),
    )
    op.create_table(
        "phase",
        sa.Column("phase_id", sa.String(length=60), nullable=False),
        sa.Column("first_built_year", sa.Integer(), nullable=True),
        sa.Column("last_built_year", sa.Integer(), nullable=True),
        sa.PrimaryKeyConstraint("phase_id", name=op.f("pk_phase")),
    )
    op.create_table(
        "street",
        sa.Column("street_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(length=200), nullable=False),
        sa.Column("kind", sa.String(length=60), nullable=False),
        sa.Column("line_wkb", sa.LargeBinary(), nullable=False),
        sa.PrimaryKeyConstraint("street_id", name=op.f("pk_street")),
    )
    op.create_table(
        "parcel",
        sa.Column("parcel_id", sa.String(length=80), nullable=False),
        sa.Column("address", sa.String(length=300), nullable=False),
        sa.Column("built_year", sa.Integer(), nullable=True),
        sa.Column("phase_id", sa.String(length=60), nullable=True),
        sa.Column("land_use", sa.String(length=80), nullable=True),
        sa.Column("lon", sa.Float(), nullable=False),
        sa.Column("lat", sa.Float(), nullable=False),
        sa.Column("area_m2", sa.Float(), nullable=False),
        sa.Column("outline_wkb", sa.LargeBinary(), nullable=False),
        sa.ForeignKeyConstraint(["phase_id"], ["phase.phase_id"], name=op.f("fk_parcel_phase_id")),
        sa.PrimaryKeyConstraint("parcel_id", name=op.f("pk_parcel")),
    )
    op.create_table(
        "home",
        sa.Column("home_id", sa.String(length=100), nullable=False),
        sa.Column("parcel_id", sa.String(length=80), nullable=False),
        sa.Column("address", sa.String(length=300), nullable=False),
        sa.Column("street", sa.String(length=200), nullable=False),
        sa.Column("phase_id", sa.String(length=60), nullable=True),
        sa.Column("built_year", sa.Integer(), nullable=True),
        sa.Column("moved_in_earliest", sa.Date(), nullable=True),
        sa.Column("moved_in_latest", sa.Date(), nullable=True),
        sa.Column("softener", sa.String(length=20), nullable=False),
        sa.ForeignKeyConstraint(["parcel_id"], ["parcel.parcel_id"], name=op.f("fk_home_parcel_id")),
        sa.ForeignKeyConstraint(["phase_id"], ["phase.phase_id"], name=op.f("fk_home_phase_id")),
        sa.PrimaryKeyConstraint("home_id", name=op.f("pk_home")),
    )
    op.create_index(op.f("ix_home_parcel_id"), "home", ["parcel_id"], unique=False)
    op.create_index(op.f("ix_home_street"), "home", ["street"], unique=False)
    op.create_table(
        "access_code",
        sa.Column("locator", sa.String(length=12), nullable=False),
        sa.Column("home_id", sa.String(length=100), nullable=False),
        sa.Column("code_hash", sa.String(length=200), nullable=False),
        sa.Column("issued_at", sa.DateTime(), nullable=False),
        sa.Column("revoked_at", sa.DateTime(), nullable=True),
        sa.Column("failed_tries", sa.Integer(), nullable=False),
        sa.Column("locked_until", sa.DateTime(), nullable=True),
        sa.ForeignKeyConstraint(["home_id"], ["home.home_id"], name=op.f("fk_access_code_home_id")),
        sa.PrimaryKeyConstraint("locator", name=op.f("pk_access_code")),
    )
    op.create_index(op.f("ix_access_code_home_id"), "access_code", ["home_id"], unique=False)
    op.create_table(
        "answer",
        sa.Column("answer_id", sa.String(length=64), nullable=False),
        sa.Column("home_id", sa.String(length=100), nullable=True),
        sa.Column("address_as_typed", sa.Text(), nullable=False),
        sa.Column("channel", sa.String(length=20), nullable=False),
        sa.Column("submitted_at", sa.DateTime(), nullable=False),
        sa.Column("submitted_by", sa.String(length=120), nullable=False),
        sa.Column("answered_on", sa.Date(), nullable=False),
        sa.Column("given", sa.JSON(), nullable=False),
        sa.Column("overruled", sa.JSON(), nullable=False),
        sa.Column("join_state", sa.String(length=20), nullable=False),
        sa.Column("join_why", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["home_id"], ["home.home_id"], name=op.f("fk_answer_home_id")),
        sa.PrimaryKeyConstraint("answer_id", name=op.f("pk_answer")),
    )
    op.create_index(op.f("ix_answer_home_id"), "answer", ["home_id"], unique=False)
    op.create_index(op.f("ix_answer_join_state"), "answer", ["join_state"], unique=False)
    op.create_table(
        "heater",
        sa.Column("heater_id", sa.String(length=120), nullable=False),
        sa.Column("home_id", sa.String(length=100), nullable=False),
        sa.Column("sequence", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(length=40), nullable=False),
        sa.Column("tank_gallons", sa.Float(), nullable=True),
        sa.Column("installed_earliest", sa.Date(), nullable=True),
        sa.Column("installed_latest", sa.Date(), nullable=True),
        sa.Column("installed_evidence", sa.String(length=40), nullable=True),
        sa.Column("number_in_home", sa.Integer(), nullable=True),
        sa.Column("warranty_years", sa.Float(), nullable=True),
        sa.Column("warranty_end", sa.Date(), nullable=True),
        sa.Column("removed_earliest", sa.Date(), nullable=True),
        sa.Column("removed_latest", sa.Date(), nullable=True),
        sa.Column("end_cause", sa.String(length=40), nullable=True),
        sa.Column("place", sa.String(length=40), nullable=False),
        sa.Column("pan", sa.String(length=20), nullable=False),
        sa.Column("leak_alarm", sa.String(length=20), nullable=False),
        sa.Column("auto_shutoff", sa.String(length=20), nullable=False),
        sa.Column("expansion_tank", sa.String(length=20), nullable=False),
        sa.Column("symptoms", sa.JSON(), nullable=False),
        sa.Column("never_done", sa.JSON(), nullable=False),
        sa.ForeignKeyConstraint(["home_id"], ["home.home_id"], name=op.f("fk_heater_home_id")),
        sa.PrimaryKeyConstraint("heater_id", name=op.f("pk_heater")),
    )
    op.create_index(op.f("ix_heater_home_id"), "heater", ["home_id"], unique=False)
    op.create_table(
        "join_candidate",
        sa.Column("answer_id", sa.String(length=64), nullable=False),
        sa.Column("home_id", sa.String(length=100), nullable=False),
        sa.Column("score", sa.Float(), nullable=False),
        sa.Column("why", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["answer_id"], ["answer.answer_id"], name=op.f("fk_join_candidate_answer_id")),
        sa.ForeignKeyConstraint(["home_id"], ["home.home_id"], name=op.f("fk_join_candidate_home_id")),
        sa.PrimaryKeyConstraint("answer_id", "home_id", name=op.f("pk_join_candidate")),
    )
    op.create_table(
        "service_record",
        sa.Column("record_id", sa.String(length=160), nullable=False),
        sa.Column("heater_id", sa.String(length=120), nullable=False),
        sa.Column("kind", sa.String(length=40), nullable=False),
        sa.Column("done_earliest", sa.Date(), nullable=False),
        sa.Column("done_latest", sa.Date(), nullable=False),
        sa.Column("findings", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["heater_id"], ["heater.heater_id"], name=op.f("fk_service_record_heater_id")),
        sa.PrimaryKeyConstraint("record_id", name=op.f("pk_service_record")),
    )
    op.create_index(op.f("ix_service_record_heater_id"), "service_record", ["heater_id"], unique=False)


def downgrade() -> None:
    """Take the step back."""
    op.drop_index(op.f("ix_service_record_heater_id"), table_name="service_record")
    op.drop_table("service_record")
    op.drop_table("join_candidate")
    op.drop_index(op.f("ix_heater_home_id"), table_name="heater")
    op.drop_table("heater")
    op.drop_index(op.f("ix_answer_join_state"), table_name="answer")
    op.drop_index(op.f("ix_answer_home_id"), table_name="answer")
    op.drop_table("answer")
    op.drop_index(op.f("ix_access_code_home_id"), table_name="access_code")
    op.drop_table("access_code")
    op.drop_index(op.f("ix_home_street"), table_name="home")
    op.drop_index(op.f("ix_home_parcel_id"), table_name="home")
    op.drop_table("home")
    op.drop_table("parcel")
    op.drop_table("street")
    op.drop_table("phase")
    op.drop_table("community")
    op.drop_index("ix_change_log_subject", table_name="change_log")
    op.drop_table("change_log")
    op.drop_table("account")
