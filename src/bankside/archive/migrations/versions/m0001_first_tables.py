"""The first tables."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None

_NUMBER = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
_WORD = sa.String(length=64).with_variant(sa.String(length=64, collation="C"), "postgresql")
_GROWING = ("entries", "files", "sources", "source_gaugings", "register", "filings", "refused")


def upgrade() -> None:
    """Make the tables, and keep what only grows from being changed or removed."""
    _make_tables()
    op.execute("INSERT INTO counters (id, arrivals) VALUES (1, 0)")
    if op.get_bind().dialect.name == "postgresql":
        op.execute(
            "CREATE FUNCTION only_grows() RETURNS trigger LANGUAGE plpgsql AS "
            "$$ BEGIN RAISE EXCEPTION 'what an archive has taken in is never changed'; END $$"
        )
    for table in _GROWING:
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


def _make_tables() -> None:
    op.create_table(
        "counters",
        sa.Column("id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("arrivals", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_counters")),
    )
    op.create_table(
        "entries",
        sa.Column("number", _NUMBER, autoincrement=False, nullable=False),
        sa.Column("id", sa.String(length=64), nullable=False),
        sa.Column("gauging", sa.String(length=64), nullable=False),
        sa.Column("content", sa.Text(), nullable=False),
        sa.Column("received_at", sa.String(length=32), nullable=False),
        sa.Column("received_from", sa.String(length=200), nullable=False),
        sa.PrimaryKeyConstraint("number", name=op.f("pk_entries")),
        sa.UniqueConstraint("id", name=op.f("uq_entries_id")),
    )
    op.create_index(op.f("ix_entries_gauging_number"), "entries", ["gauging", "number"])
    op.create_table(
        "files",
        sa.Column("sha256", sa.String(length=64), nullable=False),
        sa.Column("type", sa.String(length=200), nullable=False),
        sa.Column("size", sa.BigInteger(), nullable=False),
        sa.Column("content", sa.LargeBinary(), nullable=False),
        sa.Column("received_at", sa.String(length=32), nullable=False),
        sa.Column("received_from", sa.String(length=200), nullable=False),
        sa.PrimaryKeyConstraint("sha256", name=op.f("pk_files")),
    )
    op.create_table(
        "filings",
        sa.Column("number", _NUMBER, nullable=False),
        sa.Column("gauging", sa.String(length=64), nullable=False),
        sa.Column("state", sa.String(length=64), nullable=False),
        sa.Column("method_version", sa.String(length=40), nullable=False),
        sa.Column("version", sa.String(length=40), nullable=False),
        sa.Column("figures", sa.Text(), nullable=False),
        sa.Column("sha256", sa.String(length=64), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("filed_by", sa.Text(), nullable=True),
        sa.Column("filed_at", sa.String(length=32), nullable=False),
        sa.PrimaryKeyConstraint("number", name=op.f("pk_filings")),
    )
    op.create_index(op.f("ix_filings_gauging_number"), "filings", ["gauging", "number"])
    op.create_table(
        "gauging_files",
        sa.Column("gauging", sa.String(length=64), nullable=False),
        sa.Column("key", sa.String(length=64), nullable=False),
        sa.Column("sha256", sa.String(length=64), nullable=False),
        sa.Column("purpose", sa.Text(), nullable=False),
        sa.Column("type", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("gauging", "key", name=op.f("pk_gauging_files")),
    )
    op.create_index(op.f("ix_gauging_files_sha256"), "gauging_files", ["sha256"])
    op.create_table(
        "gaugings",
        sa.Column("id", sa.String(length=64), nullable=False),
        sa.Column("number", sa.BigInteger(), nullable=False),
        sa.Column("digest", sa.String(length=64), nullable=False),
        sa.Column("survey", sa.String(length=64), nullable=True),
        sa.Column("site", sa.String(length=64), nullable=True),
        sa.Column("said_id", sa.Text(), nullable=True),
        sa.Column("stream", sa.Text(), nullable=True),
        sa.Column("place", sa.Text(), nullable=True),
        sa.Column("label", sa.Text(), nullable=True),
        sa.Column("day", sa.String(length=10), nullable=False),
        sa.Column("started", sa.Text(), nullable=True),
        sa.Column("ended", sa.Text(), nullable=True),
        sa.Column("state", sa.String(length=30), nullable=False),
        sa.Column("crew", sa.Text(), nullable=True),
        sa.Column("meter", sa.Text(), nullable=True),
        sa.Column("calibration_due", sa.String(length=10), nullable=True),
        sa.Column("proven", sa.Integer(), nullable=False),
        sa.Column("over", sa.Integer(), nullable=False),
        sa.Column("verticals", sa.Integer(), nullable=False),
        sa.Column("discharge_m3s", sa.Float(), nullable=True),
        sa.Column("width_m", sa.Float(), nullable=True),
        sa.Column("area_m2", sa.Float(), nullable=True),
        sa.Column("mean_depth_m", sa.Float(), nullable=True),
        sa.Column("mean_velocity_ms", sa.Float(), nullable=True),
        sa.Column("stage", sa.Float(), nullable=True),
        sa.Column("stage_unit", sa.String(length=4), nullable=True),
        sa.Column("standard_percent", sa.Float(), nullable=True),
        sa.Column("expanded_percent", sa.Float(), nullable=True),
        sa.Column("quality", sa.String(length=20), nullable=True),
        sa.Column("lon", sa.Float(), nullable=True),
        sa.Column("lat", sa.Float(), nullable=True),
        sa.Column("repeats", sa.String(length=64), nullable=True),
        sa.Column("open_stop", sa.Integer(), nullable=False),
        sa.Column("open_fix", sa.Integer(), nullable=False),
        sa.Column("open_explain", sa.Integer(), nullable=False),
        sa.Column("conflicts", sa.Integer(), nullable=False),
        sa.Column("photos", sa.Integer(), nullable=False),
        sa.Column("entries", sa.Integer(), nullable=False),
        sa.Column("trouble", sa.Text(), nullable=True),
        sa.Column("record", sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_gaugings")),
    )
    op.create_index(op.f("ix_gaugings_day"), "gaugings", ["day"])
    op.create_index(op.f("ix_gaugings_meter_day"), "gaugings", ["meter", "day"])
    op.create_index(op.f("ix_gaugings_site_day"), "gaugings", ["site", "day"])
    op.create_index(op.f("ix_gaugings_state_day"), "gaugings", ["state", "day"])
    op.create_index(op.f("ix_gaugings_survey_day"), "gaugings", ["survey", "day"])
    op.create_table(
        "refused",
        sa.Column("number", _NUMBER, nullable=False),
        sa.Column("gauging", sa.String(length=64), nullable=True),
        sa.Column("content", sa.Text(), nullable=False),
        sa.Column("why", sa.Text(), nullable=False),
        sa.Column("received_at", sa.String(length=32), nullable=False),
        sa.Column("received_from", sa.String(length=200), nullable=False),
        sa.PrimaryKeyConstraint("number", name=op.f("pk_refused")),
    )
    op.create_index(op.f("ix_refused_gauging"), "refused", ["gauging"])
    op.create_table(
        "register",
        sa.Column("number", _NUMBER, autoincrement=False, nullable=False),
        sa.Column("kind", sa.String(length=20), nullable=False),
        sa.Column("key", sa.String(length=64), nullable=False),
        sa.Column("record", sa.Text(), nullable=False),
        sa.Column("put_at", sa.String(length=32), nullable=False),
        sa.Column("put_by", sa.Text(), nullable=True),
        sa.Column("reason", sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint("number", name=op.f("pk_register")),
    )
    op.create_index(op.f("ix_register_kind_key_number"), "register", ["kind", "key", "number"])
    op.create_table(
        "stale",
        sa.Column("gauging", sa.String(length=64), nullable=False),
        sa.Column("number", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("gauging", name=op.f("pk_stale")),
    )
    op.create_table(
        "survey_states",
        sa.Column("survey", sa.String(length=64), nullable=False),
        sa.Column("state", sa.String(length=30), nullable=False),
        sa.Column("gaugings", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("survey", "state", name=op.f("pk_survey_states")),
    )
    op.create_table(
        "surveys",
        sa.Column("id", sa.String(length=64), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("starts", sa.String(length=10), nullable=True),
        sa.Column("ends", sa.String(length=10), nullable=True),
        sa.Column("sites", sa.Integer(), nullable=False),
        sa.Column("record", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_surveys")),
    )
    op.create_index(op.f("ix_surveys_starts_id"), "surveys", ["starts", "id"])
    op.create_table(
        "vocabulary",
        sa.Column("word", _WORD, nullable=False),
        sa.Column("gaugings", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("word", name=op.f("pk_vocabulary")),
    )
    op.create_table(
        "words",
        sa.Column("word", _WORD, nullable=False),
        sa.Column("day", sa.String(length=10), nullable=False),
        sa.Column("gauging", sa.String(length=64), nullable=False),
        sa.PrimaryKeyConstraint("word", "day", "gauging", name=op.f("pk_words")),
    )
    op.create_index(op.f("ix_words_gauging"), "words", ["gauging"])
    op.create_table(
        "sites",
        sa.Column("survey", sa.String(length=64), nullable=False),
        sa.Column("id", sa.String(length=64), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("stream", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("record", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["survey"], ["surveys.id"], name=op.f("fk_sites_survey"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("survey", "id", name=op.f("pk_sites")),
    )
    op.create_index(op.f("ix_sites_id"), "sites", ["id"])
    op.create_table(
        "sources",
        sa.Column("number", _NUMBER, nullable=False),
        sa.Column("sha256", sa.String(length=64), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("taken_at", sa.String(length=32), nullable=False),
        sa.Column("taken_by", sa.Text(), nullable=True),
        sa.Column("answers", sa.Text(), nullable=False),
        sa.Column("report", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["sha256"], ["files.sha256"], name=op.f("fk_sources_sha256")),
        sa.PrimaryKeyConstraint("number", name=op.f("pk_sources")),
    )
    op.create_index(op.f("ix_sources_sha256"), "sources", ["sha256"])
    op.create_table(
        "source_gaugings",
        sa.Column("source", sa.BigInteger(), nullable=False),
        sa.Column("place", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("gauging", sa.String(length=64), nullable=False),
        sa.Column("label", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["source"], ["sources.number"], name=op.f("fk_source_gaugings_source")
        ),
        sa.PrimaryKeyConstraint("source", "place", name=op.f("pk_source_gaugings")),
    )
    op.create_index(op.f("ix_source_gaugings_gauging"), "source_gaugings", ["gauging"])
