"""What Alembic runs to take the steps, on the connection that `kailyard.store.migrate` hands over."""

from alembic import context

context.configure(connection=context.config.attributes["connection"])
context.run_migrations()
