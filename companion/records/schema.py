"""Tables. Rows of the log are only ever added; cards are added revision by revision."""

from sqlalchemy import (
    Boolean,
    Column,
    Index,
    Integer,
    MetaData,
    String,
    Table,
    Text,
    UniqueConstraint,
)

from ..trade.rows import COLUMNS

metadata = MetaData()

#: Who this server is; one line. The epoch changes when a backup is restored.
server = Table(
    "server",
    metadata,
    Column("server_id", String(36), primary_key=True),
    Column("epoch", String(36), nullable=False),
    Column("demo", Boolean, nullable=False),
    # The log this server writes itself, for what the office decides.
    Column("log_id", String(36), nullable=False, server_default=""),
)

#: The log as received: every column as text, plus what the server adds.
rows = Table(
    "rows",
    metadata,
    Column("number", Integer, primary_key=True, autoincrement=True),
    *(Column(name, Integer if name == "seq" else Text, nullable=False) for name in COLUMNS),
    Column("extra", Text, nullable=False),
    Column("received_at", Text, nullable=False),
    Column("clock_offset_ms", Integer),
    UniqueConstraint("log_id", "seq"),
    UniqueConstraint("event_id"),
    Index("rows_by_cup", "cup"),
)

#: Rows set aside: quarantined (not what a row should be) or in conflict with a stored one.
strays = Table(
    "strays",
    metadata,
    Column("number", Integer, primary_key=True, autoincrement=True),
    Column("log_id", Text, nullable=False),
    Column("seq", Integer),
    Column("status", Text, nullable=False),
    Column("reason", Text, nullable=False),
    Column("raw", Text, nullable=False),
    # Names of its columns where they are not those of the format, in its order.
    Column("header", Text, nullable=False, server_default=""),
    Column("raw_sha256", String(64), nullable=False),
    Column("received_at", Text, nullable=False),
    UniqueConstraint("log_id", "raw_sha256"),
)

#: Phone stores that have sent something.
logs = Table(
    "logs",
    metadata,
    Column("log_id", String(36), primary_key=True),
    Column("first_contact_at", Text, nullable=False),
    Column("last_contact_at", Text, nullable=False),
    Column("app_version", Text, nullable=False),
    Column("clock_offset_ms", Integer),
    # Rows the phone still held after the last sending, as it said itself.
    Column("unsent", Integer),
)

#: Every code ever minted and the log it was given to ("" for the office).
codes = Table(
    "codes",
    metadata,
    Column("code", String(6), primary_key=True),
    Column("given_to", Text, nullable=False),
    Column("minted_at", Text, nullable=False),
)

#: Cards of every kind, each revision a line of its own.
cards = Table(
    "cards",
    metadata,
    Column("kind", Text, primary_key=True),
    Column("code", Text, primary_key=True),
    Column("revision", Integer, primary_key=True),
    Column("body", Text, nullable=False),
    Column("made_at", Text, nullable=False),
)

#: People: the code goes into the log, the name stays here and can be erased.
people = Table(
    "people",
    metadata,
    Column("code", Text, primary_key=True),
    Column("name", Text, nullable=False),
    Column("erased_at", Text, nullable=False, server_default=""),
)

#: Customers: the code goes into the log, the name stays here and can be erased.
customers = Table(
    "customers",
    metadata,
    Column("code", Text, primary_key=True),
    Column("name", Text, nullable=False),
    Column("erased_at", Text, nullable=False),
)

#: Cups the office has planned; the log tells what became of them.
planned_cups = Table(
    "planned_cups",
    metadata,
    Column("code", String(6), primary_key=True),
    Column("job", Text, nullable=False),
    Column("step", Text, nullable=False),
    Column("system", Text, nullable=False),
    Column("total", Text, nullable=False),
    Column("cup_type", Text, nullable=False),
    Column("cup_mass", Text, nullable=False),
    Column("made_at", Text, nullable=False),
    Column("withdrawn_at", Text, nullable=False),
    # Paste or filler in its part A, and its share of part A in per cent, text.
    Column("additive", Text, nullable=False, server_default=""),
    Column("additive_pct", Text, nullable=False, server_default=""),
)

#: Codes whose label was made, and when last.
printed_labels = Table(
    "printed_labels",
    metadata,
    Column("code", String(6), primary_key=True),
    Column("printed_at", Text, nullable=False),
)

#: Parts: what a job makes, each with a serial that no other part of the shop has.
parts = Table(
    "parts",
    metadata,
    Column("code", String(6), primary_key=True),
    Column("job", Text, nullable=False),
    Column("serial", Text, nullable=False),
    Column("made_at", Text, nullable=False),
    UniqueConstraint("serial"),
)

#: Backups that were restored once and found to be what the records were.
backups = Table(
    "backups",
    metadata,
    Column("file", Text, primary_key=True),
    Column("made_at", Text, nullable=False),
    Column("sha256", String(64), nullable=False),
    Column("rows", Integer, nullable=False),
)

#: Phones that may send: one line per phone store, with what proves it. Never deleted.
paired_phones = Table(
    "paired_phones",
    metadata,
    Column("log_id", String(36), primary_key=True),
    Column("name", Text, nullable=False),
    Column("token_sha256", String(64), nullable=False),
    # Given but not yet used; until then the one before is good, for an answer may be lost.
    Column("next_token_sha256", String(64), nullable=False),
    Column("token_made_at", Text, nullable=False),
    Column("paired_at", Text, nullable=False),
    Column("last_seen_at", Text, nullable=False),
    Column("revoked_at", Text, nullable=False),
    # The store this one stands for, if that was lost, and how far its rows had come then.
    Column("replaces", Text, nullable=False),
    Column("replaced_upto", Integer, nullable=False),
    UniqueConstraint("token_sha256"),
)

#: Codes that work once: to pair a phone, or to set the first passphrase.
one_time_codes = Table(
    "one_time_codes",
    metadata,
    Column("code_sha256", String(64), primary_key=True),
    Column("purpose", Text, nullable=False),
    Column("name", Text, nullable=False),
    Column("replaces", Text, nullable=False),
    Column("made_at", Text, nullable=False),
    Column("expires_at", Text, nullable=False),
    Column("used_at", Text, nullable=False),
)

#: The passphrase of the office, as argon2id; the newest line counts.
passphrases = Table(
    "passphrases",
    metadata,
    Column("number", Integer, primary_key=True, autoincrement=True),
    Column("argon2id", Text, nullable=False),
    Column("set_at", Text, nullable=False),
)

#: Browsers that came in with the passphrase.
sessions = Table(
    "sessions",
    metadata,
    Column("number", Integer, primary_key=True, autoincrement=True),
    Column("token_sha256", String(64), nullable=False),
    Column("begun_at", Text, nullable=False),
    Column("last_used_at", Text, nullable=False),
    Column("browser", Text, nullable=False),
    Column("ended_at", Text, nullable=False),
    UniqueConstraint("token_sha256"),
)
