"""Whether the discharge of a gauging is in doubt, so that no range around it is told."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"


def upgrade() -> None:
    """Make the column, and have every gauging worked out anew: what it says is in no other."""
    op.add_column(
        "gaugings", sa.Column("in_doubt", sa.Integer(), nullable=False, server_default="0")
    )
    op.execute(
        "INSERT INTO stale (gauging, number) SELECT id, number FROM gaugings "
        "WHERE id NOT IN (SELECT gauging FROM stale)"
    )
