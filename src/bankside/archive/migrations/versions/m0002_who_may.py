"""Who may: accounts, devices, and how they prove who they are; and the line of an archive."""

import secrets

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"

_NAME = sa.String(length=100)
_ROLE = sa.String(length=20)
_SHA256 = sa.String(length=64)
_MOMENT = sa.String(length=32)


def upgrade() -> None:
    """Make the tables, and say which line of its history the archive is on."""
    op.create_table(
        "settings",
        sa.Column("name", sa.String(length=64), nullable=False),
        sa.Column("value", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("name", name=op.f("pk_settings")),
    )
    settings = sa.table("settings", sa.column("name"), sa.column("value"))
    op.execute(settings.insert().values(name="lineage", value=secrets.token_hex(8)))
    op.create_table(
        "accounts",
        sa.Column("name", _NAME, nullable=False),
        sa.Column("role", _ROLE, nullable=False),
        sa.Column("password", sa.Text(), nullable=False),
        sa.Column("made_at", _MOMENT, nullable=False),
        sa.Column("changed_at", _MOMENT, nullable=False),
        sa.PrimaryKeyConstraint("name", name=op.f("pk_accounts")),
    )
    op.create_table(
        "sessions",
        sa.Column("sha256", _SHA256, nullable=False),
        sa.Column("account", _NAME, nullable=False),
        sa.Column("expires_at", _MOMENT, nullable=False),
        sa.ForeignKeyConstraint(
            ["account"], ["accounts.name"], name=op.f("fk_sessions_account"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("sha256", name=op.f("pk_sessions")),
    )
    op.create_index(op.f("ix_sessions_account"), "sessions", ["account"])
    op.create_table(
        "devices",
        sa.Column("id", sa.String(length=64), nullable=False),
        sa.Column("device", sa.String(length=64), nullable=False),
        sa.Column("name", _NAME, nullable=False),
        sa.Column("role", _ROLE, nullable=False),
        sa.Column("paired_by", _NAME, nullable=False),
        sa.Column("sha256", _SHA256, nullable=False),
        sa.Column("paired_at", _MOMENT, nullable=False),
        sa.Column("seen_at", _MOMENT, nullable=True),
        sa.Column("revoked_at", _MOMENT, nullable=True),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_devices")),
        sa.UniqueConstraint("sha256", name=op.f("uq_devices_sha256")),
    )
    op.create_table(
        "pairing_codes",
        sa.Column("sha256", _SHA256, nullable=False),
        sa.Column("name", _NAME, nullable=True),
        sa.Column("role", _ROLE, nullable=False),
        sa.Column("made_by", _NAME, nullable=False),
        sa.Column("expires_at", _MOMENT, nullable=False),
        sa.Column("used_at", _MOMENT, nullable=True),
        sa.PrimaryKeyConstraint("sha256", name=op.f("pk_pairing_codes")),
    )
