"""Who may come in: paired phones, codes that work once, the passphrase, sessions."""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"


def upgrade() -> None:
    op.add_column("logs", sa.Column("unsent", sa.Integer(), nullable=True))
    op.create_table(
        "paired_phones",
        sa.Column("log_id", sa.String(length=36), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("token_sha256", sa.String(length=64), nullable=False),
        sa.Column("next_token_sha256", sa.String(length=64), nullable=False),
        sa.Column("token_made_at", sa.Text(), nullable=False),
        sa.Column("paired_at", sa.Text(), nullable=False),
        sa.Column("last_seen_at", sa.Text(), nullable=False),
        sa.Column("revoked_at", sa.Text(), nullable=False),
        sa.Column("replaces", sa.Text(), nullable=False),
        sa.Column("replaced_upto", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("log_id"),
        sa.UniqueConstraint("token_sha256"),
    )
    op.create_table(
        "one_time_codes",
        sa.Column("code_sha256", sa.String(length=64), nullable=False),
        sa.Column("purpose", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("replaces", sa.Text(), nullable=False),
        sa.Column("made_at", sa.Text(), nullable=False),
        sa.Column("expires_at", sa.Text(), nullable=False),
        sa.Column("used_at", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("code_sha256"),
    )
    op.create_table(
        "passphrases",
        sa.Column("number", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("argon2id", sa.Text(), nullable=False),
        sa.Column("set_at", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("number"),
    )
    op.create_table(
        "sessions",
        sa.Column("number", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("token_sha256", sa.String(length=64), nullable=False),
        sa.Column("begun_at", sa.Text(), nullable=False),
        sa.Column("last_used_at", sa.Text(), nullable=False),
        sa.Column("browser", sa.Text(), nullable=False),
        sa.Column("ended_at", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("number"),
        sa.UniqueConstraint("token_sha256"),
    )
