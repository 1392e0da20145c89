"""Practice on simulated streams, in tables of its own: sessions, and records of who was ready."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"

_NUMBER = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
_SHA256 = sa.String(length=64)
_MOMENT = sa.String(length=32)


def upgrade() -> None:
    """Make the tables, and keep their rows from being changed or removed."""
    op.create_table(
        "practice_sessions",
        sa.Column("number", _NUMBER, nullable=False),
        sa.Column("sha256", _SHA256, nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("content", sa.LargeBinary(), nullable=False),
        sa.Column("kept_at", _MOMENT, nullable=False),
        sa.Column("kept_by", sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint("number", name=op.f("pk_practice_sessions")),
        sa.UniqueConstraint("sha256", name=op.f("uq_practice_sessions_sha256")),
    )
    op.create_table(
        "practice_records",
        sa.Column("number", _NUMBER, nullable=False),
        sa.Column("sha256", _SHA256, nullable=False),
        sa.Column("content", sa.Text(), nullable=False),
        sa.Column("kept_at", _MOMENT, nullable=False),
        sa.Column("kept_by", sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint("number", name=op.f("pk_practice_records")),
        sa.UniqueConstraint("sha256", name=op.f("uq_practice_records_sha256")),
    )
    for table in ("practice_sessions", "practice_records"):
        _keep(table)


def _keep(table: str) -> None:
    if op.get_bind().dialect.name == "postgresql":
        op.execute(
            f"CREATE TRIGGER {table}_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON {table} "
            "FOR EACH STATEMENT EXECUTE FUNCTION only_grows()"
        )
        return
    for act in ("UPDATE", "DELETE"):
        op.execute(
            f"CREATE TRIGGER {table}_no_{act.lower()} BEFORE {act} ON {table} BEGIN "
            "SELECT RAISE(ABORT, 'what an archive has taken in is never changed'); END"
        )
