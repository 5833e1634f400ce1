"""Alembic's entry: run on the connection the store hands over, inside its transaction."""

from alembic import context

from companion.records.schema import metadata

connection = context.config.attributes["connection"]
context.configure(connection=connection, target_metadata=metadata)
context.run_migrations()
