"""Which labels were made, so that the office offers those that were not."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"


def upgrade() -> None:
    op.create_table(
        "printed_labels",
        sa.Column("code", sa.String(length=6), nullable=False),
        sa.Column("printed_at", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("code"),
    )
