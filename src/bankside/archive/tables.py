"""The tables of an archive: those that only grow, and those that are worked out from them.

The migrations under `migrations/versions` make them; a test holds both to one another.
"""

from __future__ import annotations

from sqlalchemy import (
    BigInteger,
    Column,
    Float,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    Text,
)

__all__ = [
    "GROWING",
    "accounts",
    "counters",
    "devices",
    "entries",
    "file_contents",
    "filings",
    "gauging_files",
    "gaugings",
    "metadata",
    "pairing_codes",
    "practice_records",
    "practice_sessions",
    "refused",
    "register",
    "sessions",
    "settings",
    "sites",
    "source_gaugings",
    "sources",
    "stale",
    "survey_states",
    "surveys",
    "vocabulary",
    "words",
]

metadata = MetaData(
    naming_convention={
        "ix": "ix_%(table_name)s_%(column_0_N_name)s",
        "uq": "uq_%(table_name)s_%(column_0_N_name)s",
        "fk": "fk_%(table_name)s_%(column_0_N_name)s",
        "pk": "pk_%(table_name)s",
    }
)

_KEY = String(64)
_SHA256 = String(64)
_NAME = String(100)
_ROLE = String(20)
# SQLite gives numbers by itself to this one type only.
_NUMBER = BigInteger().with_variant(Integer, "sqlite")


# Ranges of words are asked for by their first letters, which no language's order may scatter.
_WORD = String(64).with_variant(String(64, collation="C"), "postgresql")


def _moment(name: str) -> Column[str]:
    """Return a column of moments: UTC, ISO 8601 with microseconds, so that texts sort as times."""
    return Column(name, String(32), nullable=False)


counters = Table(
    "counters",
    metadata,
    # One row, held to the end of each transaction that writes: numbers are given one by one.
    Column("id", Integer, primary_key=True, autoincrement=False),
    Column("arrivals", BigInteger, nullable=False),
)

entries = Table(
    "entries",
    metadata,
    Column("number", _NUMBER, primary_key=True, autoincrement=False),
    Column("id", _KEY, nullable=False, unique=True),
    Column("gauging", _KEY, nullable=False),
    # The whole entry as JSON in ASCII: every character that JSON can spell can be kept.
    Column("content", Text, nullable=False),
    _moment("received_at"),
    Column("received_from", String(200), nullable=False),
    Index(None, "gauging", "number"),
)

file_contents = Table(
    "files",
    metadata,
    Column("sha256", _SHA256, primary_key=True),
    Column("type", String(200), nullable=False),
    Column("size", BigInteger, nullable=False),
    Column("content", LargeBinary, nullable=False),
    _moment("received_at"),
    Column("received_from", String(200), nullable=False),
)

sources = Table(
    "sources",
    metadata,
    Column("number", _NUMBER, primary_key=True),
    Column("sha256", _SHA256, ForeignKey("files.sha256"), nullable=False, index=True),
    Column("name", Text, nullable=False),
    _moment("taken_at"),
    Column("taken_by", Text),
    # How it was read and what became of every row, as JSON.
    Column("answers", Text, nullable=False),
    Column("report", Text, nullable=False),
)

source_gaugings = Table(
    "source_gaugings",
    metadata,
    Column("source", BigInteger, ForeignKey("sources.number"), primary_key=True),
    Column("place", Integer, primary_key=True, autoincrement=False),
    Column("gauging", _KEY, nullable=False, index=True),
    Column("label", Text, nullable=False),
)

register = Table(
    "register",
    metadata,
    Column("number", _NUMBER, primary_key=True, autoincrement=False),
    Column("kind", String(20), nullable=False),
    Column("key", _KEY, nullable=False),
    Column("record", Text, nullable=False),
    _moment("put_at"),
    Column("put_by", Text),
    Column("reason", Text),
    Index(None, "kind", "key", "number"),
)

filings = Table(
    "filings",
    metadata,
    Column("number", _NUMBER, primary_key=True),
    Column("gauging", _KEY, nullable=False),
    # Which entries the figure rests on, and which method gave it.
    Column("state", _SHA256, nullable=False),
    Column("method_version", String(40), nullable=False),
    Column("version", String(40), nullable=False),
    # Totals and panels as JSON, and the checksum of that text.
    Column("figures", Text, nullable=False),
    Column("sha256", _SHA256, nullable=False),
    Column("reason", Text, nullable=False),
    Column("filed_by", Text),
    _moment("filed_at"),
    Index(None, "gauging", "number"),
)

refused = Table(
    "refused",
    metadata,
    # What was sent and could not be taken in, as it came, for a person to look at.
    Column("number", _NUMBER, primary_key=True),
    Column("gauging", _KEY, index=True),
    Column("content", Text, nullable=False),
    Column("why", Text, nullable=False),
    _moment("received_at"),
    Column("received_from", String(200), nullable=False),
)

stale = Table(
    "stale",
    metadata,
    Column("gauging", _KEY, primary_key=True),
    # The arrival that made it so: what came while it was worked out makes it stale again.
    Column("number", BigInteger, nullable=False),
)

surveys = Table(
    "surveys",
    metadata,
    Column("id", _KEY, primary_key=True),
    Column("name", Text, nullable=False),
    Column("starts", String(10)),
    Column("ends", String(10)),
    Column("sites", Integer, nullable=False),
    Column("record", Text, nullable=False),
    Index(None, "starts", "id"),
)

survey_states = Table(
    "survey_states",
    metadata,
    # How many gaugings of a survey have come how far; an empty survey is that of no known site.
    Column("survey", _KEY, primary_key=True),
    Column("state", String(30), primary_key=True),
    Column("gaugings", Integer, nullable=False),
)

sites = Table(
    "sites",
    metadata,
    Column("survey", _KEY, ForeignKey("surveys.id", ondelete="CASCADE"), primary_key=True),
    Column("id", _KEY, primary_key=True),
    Column("place", Integer, nullable=False),
    Column("stream", Text, nullable=False),
    Column("name", Text, nullable=False),
    Column("record", Text, nullable=False),
    Index(None, "id"),
)

gaugings = Table(
    "gaugings",
    metadata,
    Column("id", _KEY, primary_key=True),
    # The last arrival that it was worked out from.
    Column("number", BigInteger, nullable=False),
    # Tells the entries that it was worked out from.
    Column("digest", _SHA256, nullable=False),
    Column("survey", _KEY),
    Column("site", _KEY),
    Column("said_id", Text),
    Column("stream", Text),
    Column("place", Text),
    Column("label", Text),
    # An empty text where no day is known, so that days sort alike in every database.
    Column("day", String(10), nullable=False),
    Column("started", Text),
    Column("ended", Text),
    Column("state", String(30), nullable=False),
    Column("crew", Text),
    Column("meter", Text),
    Column("calibration_due", String(10)),
    Column("proven", Integer, nullable=False),
    # Whether no readings are still to come, whatever a review says.
    Column("over", Integer, nullable=False),
    Column("verticals", Integer, nullable=False),
    Column("discharge_m3s", Float),
    Column("width_m", Float),
    Column("area_m2", Float),
    Column("mean_depth_m", Float),
    Column("mean_velocity_ms", Float),
    Column("stage", Float),
    Column("stage_unit", String(4)),
    Column("standard_percent", Float),
    Column("expanded_percent", Float),
    # Whether something stands that no range around the discharge can speak of: none is in the row.
    Column("in_doubt", Integer, nullable=False, server_default="0"),
    Column("quality", String(20)),
    Column("lon", Float),
    Column("lat", Float),
    Column("repeats", _KEY),
    Column("open_stop", Integer, nullable=False),
    Column("open_fix", Integer, nullable=False),
    Column("open_explain", Integer, nullable=False),
    Column("conflicts", Integer, nullable=False),
    Column("photos", Integer, nullable=False),
    Column("entries", Integer, nullable=False),
    # Why there is no record or no discharge, in words.
    Column("trouble", Text),
    # The record in its wire form; absent where the journal makes none.
    Column("record", Text),
    Index(None, "survey", "day"),
    Index(None, "site", "day"),
    Index(None, "day"),
    Index(None, "meter", "day"),
    Index(None, "state", "day"),
)

gauging_files = Table(
    "gauging_files",
    metadata,
    Column("gauging", _KEY, primary_key=True),
    Column("key", _KEY, primary_key=True),
    Column("sha256", _SHA256, nullable=False, index=True),
    Column("purpose", Text, nullable=False),
    Column("type", Text, nullable=False),
)

words = Table(
    "words",
    metadata,
    Column("word", _WORD, primary_key=True),
    Column("day", String(10), primary_key=True),
    Column("gauging", _KEY, primary_key=True),
    Index(None, "gauging"),
)

vocabulary = Table(
    "vocabulary",
    metadata,
    Column("word", _WORD, primary_key=True),
    Column("gaugings", Integer, nullable=False),
)

settings = Table(
    "settings",
    metadata,
    # Among them `lineage`: another one after the archive was put back from a backup.
    Column("name", _KEY, primary_key=True),
    Column("value", Text, nullable=False),
)

accounts = Table(
    "accounts",
    metadata,
    Column("name", _NAME, primary_key=True),
    Column("role", _ROLE, nullable=False),
    # By argon2id, with its salt and its costs.
    Column("password", Text, nullable=False),
    _moment("made_at"),
    _moment("changed_at"),
)

sessions = Table(
    "sessions",
    metadata,
    # Of the token, which is kept nowhere.
    Column("sha256", _SHA256, primary_key=True),
    Column("account", _NAME, ForeignKey("accounts.name", ondelete="CASCADE"), nullable=False),
    _moment("expires_at"),
    Index(None, "account"),
)

devices = Table(
    "devices",
    metadata,
    Column("id", _KEY, primary_key=True),
    # By which its entries name it.
    Column("device", _KEY, nullable=False),
    Column("name", _NAME, nullable=False),
    Column("role", _ROLE, nullable=False),
    # Who made the code by which it was paired.
    Column("paired_by", _NAME, nullable=False),
    Column("sha256", _SHA256, nullable=False, unique=True),
    _moment("paired_at"),
    Column("seen_at", String(32)),
    Column("revoked_at", String(32)),
)

pairing_codes = Table(
    "pairing_codes",
    metadata,
    Column("sha256", _SHA256, primary_key=True),
    Column("name", _NAME),
    Column("role", _ROLE, nullable=False),
    Column("made_by", _NAME, nullable=False),
    _moment("expires_at"),
    Column("used_at", String(32)),
)

# Practice on simulated streams: no other table names these, and these name no other.
practice_sessions = Table(
    "practice_sessions",
    metadata,
    Column("number", _NUMBER, primary_key=True),
    Column("sha256", _SHA256, nullable=False, unique=True),
    Column("name", Text, nullable=False),
    # The file of the session, byte for byte.
    Column("content", LargeBinary, nullable=False),
    _moment("kept_at"),
    Column("kept_by", Text),
)

practice_records = Table(
    "practice_records",
    metadata,
    Column("number", _NUMBER, primary_key=True),
    # Who was ready, by what was asked for and of which sessions: JSON, and its checksum.
    Column("sha256", _SHA256, nullable=False, unique=True),
    Column("content", Text, nullable=False),
    _moment("kept_at"),
    Column("kept_by", Text),
)

GROWING = (
    *(entries, file_contents, sources, source_gaugings, register, filings, refused),
    *(practice_sessions, practice_records),
)
"""Tables of which no row is ever changed or removed; the database itself refuses it."""
