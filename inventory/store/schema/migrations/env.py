"""What alembic runs: the steps, on the connection and in the transaction that `schema` hands over."""

from __future__ import annotations

from alembic import context

context.configure(connection=context.config.attributes["connection"])
context.run_migrations()
