"""The first records: the log, cards, codes, planned cups."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None


def upgrade() -> None:
    op.create_table(
        "cards",
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("body", sa.Text(), nullable=False),
        sa.Column("made_at", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("kind", "code", "revision"),
    )
    op.create_table(
        "codes",
        sa.Column("code", sa.String(length=6), nullable=False),
        sa.Column("given_to", sa.Text(), nullable=False),
        sa.Column("minted_at", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("code"),
    )
    op.create_table(
        "logs",
        sa.Column("log_id", sa.String(length=36), nullable=False),
        sa.Column("first_contact_at", sa.Text(), nullable=False),
        sa.Column("last_contact_at", sa.Text(), nullable=False),
        sa.Column("app_version", sa.Text(), nullable=False),
        sa.Column("clock_offset_ms", sa.Integer(), nullable=True),
        sa.PrimaryKeyConstraint("log_id"),
    )
    op.create_table(
        "people",
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("code"),
    )
    op.create_table(
        "planned_cups",
        sa.Column("code", sa.String(length=6), nullable=False),
        sa.Column("job", sa.Text(), nullable=False),
        sa.Column("step", sa.Text(), nullable=False),
        sa.Column("system", sa.Text(), nullable=False),
        sa.Column("total", sa.Text(), nullable=False),
        sa.Column("cup_type", sa.Text(), nullable=False),
        sa.Column("cup_mass", sa.Text(), nullable=False),
        sa.Column("made_at", sa.Text(), nullable=False),
        sa.Column("withdrawn_at", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("code"),
    )
    op.create_table(
        "rows",
        sa.Column("number", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("format", sa.Text(), nullable=False),
        sa.Column("log_id", sa.Text(), nullable=False),
        sa.Column("seq", sa.Integer(), nullable=False),
        sa.Column("event_id", sa.Text(), nullable=False),
        sa.Column("after", sa.Text(), nullable=False),
        sa.Column("recorded_at", sa.Text(), nullable=False),
        sa.Column("utc_offset_min", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("cup", sa.Text(), nullable=False),
        sa.Column("job", sa.Text(), nullable=False),
        sa.Column("step", sa.Text(), nullable=False),
        sa.Column("component", sa.Text(), nullable=False),
        sa.Column("lot", sa.Text(), nullable=False),
        sa.Column("container", sa.Text(), nullable=False),
        sa.Column("value", sa.Text(), nullable=False),
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("typed", sa.Text(), nullable=False),
        sa.Column("target", sa.Text(), nullable=False),
        sa.Column("shown", sa.Text(), nullable=False),
        sa.Column("scale", sa.Text(), nullable=False),
        sa.Column("person", sa.Text(), nullable=False),
        sa.Column("refers_to", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("system", sa.Text(), nullable=False),
        sa.Column("app_version", sa.Text(), nullable=False),
        sa.Column("extra", sa.Text(), nullable=False),
        sa.Column("received_at", sa.Text(), nullable=False),
        sa.Column("clock_offset_ms", sa.Integer(), nullable=True),
        sa.PrimaryKeyConstraint("number"),
        sa.UniqueConstraint("event_id"),
        sa.UniqueConstraint("log_id", "seq"),
    )
    op.create_index("rows_by_cup", "rows", ["cup"], unique=False)
    op.create_table(
        "server",
        sa.Column("server_id", sa.String(length=36), nullable=False),
        sa.Column("epoch", sa.String(length=36), nullable=False),
        sa.Column("demo", sa.Boolean(), nullable=False),
        sa.PrimaryKeyConstraint("server_id"),
    )
    op.create_table(
        "strays",
        sa.Column("number", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("log_id", sa.Text(), nullable=False),
        sa.Column("seq", sa.Integer(), nullable=True),
        sa.Column("status", sa.Text(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("raw", sa.Text(), nullable=False),
        sa.Column("raw_sha256", sa.String(length=64), nullable=False),
        sa.Column("received_at", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("number"),
        sa.UniqueConstraint("log_id", "raw_sha256"),
    )
