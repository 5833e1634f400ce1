"""Parts: one serial each, under a code of the common code space."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"


def upgrade() -> None:
    op.create_table(
        "parts",
        sa.Column("code", sa.String(length=6), nullable=False),
        sa.Column("job", sa.Text(), nullable=False),
        sa.Column("serial", sa.Text(), nullable=False),
        sa.Column("made_at", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("code"),
        sa.UniqueConstraint("serial"),
    )
