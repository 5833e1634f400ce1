"""A log of the office's own, and the column names of a row set aside."""

import uuid

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"


def upgrade() -> None:
    op.add_column(
        "server", sa.Column("log_id", sa.String(length=36), nullable=False, server_default="")
    )
    op.execute(sa.text("UPDATE server SET log_id = :id").bindparams(id=str(uuid.uuid4())))
    op.add_column("strays", sa.Column("header", sa.Text(), nullable=False, server_default=""))
