"""Run the steps on the connection that was handed over."""

from alembic import context

from bankside.archive.tables import metadata

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=metadata,
    transactional_ddl=True,
    render_as_batch=True,
)
context.run_migrations()
