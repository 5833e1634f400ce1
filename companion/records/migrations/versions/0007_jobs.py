"""Customers, people whose name was erased, and additives of planned cups."""

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"


def upgrade() -> None:
    op.create_table(
        "customers",
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("erased_at", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("code"),
    )
    op.add_column("people", sa.Column("erased_at", sa.Text(), nullable=False, server_default=""))
    for name in ("additive", "additive_pct"):
        op.add_column("planned_cups", sa.Column(name, sa.Text(), nullable=False, server_default=""))
