"""The tables, as a list of migrations that are each applied once.

`entries` only grows: triggers refuse a change or a removal, and AUTOINCREMENT never hands out a
sequence number twice. `vehicles`, `tags`, `merged`, `jobs`, `words`, `due` and `held_numbers` are
projections, made from the entries alone.
"""

import sqlite3
import uuid

from sqlite_utils import Database
from sqlite_utils.migrations import Migrations

migrations = Migrations("shoplog")

ENTRIES = """
CREATE TABLE entries (
    seq INTEGER PRIMARY KEY AUTOINCREMENT,
    id TEXT NOT NULL UNIQUE CHECK (length(id) = 36),
    v INTEGER NOT NULL CHECK (v = 1),
    phone TEXT NOT NULL CHECK (length(phone) = 36),
    person TEXT NOT NULL CHECK (length(person) = 36),
    local_no INTEGER NOT NULL CHECK (local_no BETWEEN 1 AND 9007199254740991),
    kind TEXT NOT NULL CHECK (kind <> ''),
    vehicle TEXT CHECK (length(vehicle) = 36),
    job TEXT CHECK (length(job) = 36),
    round TEXT CHECK (round IN ('as_found', 'fit_up', 'as_left', 'recheck')),
    body TEXT NOT NULL CHECK (json_valid(body)),
    typed TEXT,
    made_at TEXT NOT NULL,
    build TEXT NOT NULL,
    received_at TEXT NOT NULL,
    content_hash BLOB NOT NULL CHECK (length(content_hash) = 32),
    chain BLOB NOT NULL CHECK (length(chain) = 32)
) STRICT;
CREATE INDEX entries_of_job ON entries (job, seq) WHERE job IS NOT NULL;
CREATE INDEX entries_of_vehicle ON entries (vehicle, seq) WHERE job IS NULL;
CREATE TRIGGER entries_never_change BEFORE UPDATE ON entries
BEGIN SELECT RAISE(ABORT, 'entries are never changed'); END;
CREATE TRIGGER entries_never_go BEFORE DELETE ON entries
BEGIN SELECT RAISE(ABORT, 'entries are never removed'); END;
CREATE TABLE quarantine (
    no INTEGER PRIMARY KEY AUTOINCREMENT,
    id TEXT NOT NULL CHECK (length(id) = 36),
    phone TEXT NOT NULL,
    content TEXT NOT NULL CHECK (json_valid(content)),
    content_hash BLOB NOT NULL CHECK (length(content_hash) = 32),
    received_at TEXT NOT NULL,
    UNIQUE (id, content_hash)
) STRICT;
"""

PEOPLE = """
CREATE TABLE people (
    id TEXT PRIMARY KEY CHECK (length(id) = 36),
    name TEXT NOT NULL CHECK (name <> ''),
    role TEXT NOT NULL CHECK (role IN ('technician', 'lead'))
) STRICT;
CREATE TABLE phones (
    id TEXT PRIMARY KEY CHECK (length(id) = 36),
    person TEXT NOT NULL REFERENCES people (id),
    kind TEXT NOT NULL CHECK (kind IN ('phone', 'desk')),
    name TEXT NOT NULL,
    credential_hash TEXT UNIQUE CHECK (kind = 'phone' OR credential_hash IS NULL),
    paired_at TEXT NOT NULL,
    revoked_at TEXT,
    last_contact TEXT,
    build TEXT,
    pending_count INTEGER CHECK (pending_count >= 0),
    oldest_pending_at TEXT,
    last_local_no INTEGER NOT NULL DEFAULT 0 CHECK (last_local_no >= 0)
) STRICT;
CREATE UNIQUE INDEX desk_of_person ON phones (person) WHERE kind = 'desk';
CREATE TABLE pairings (
    code_hash TEXT PRIMARY KEY CHECK (code_hash <> ''),
    person TEXT NOT NULL REFERENCES people (id),
    expires_at TEXT NOT NULL,
    used_at TEXT
) STRICT;
CREATE TABLE facts (
    name TEXT PRIMARY KEY,
    value TEXT NOT NULL
) STRICT;
"""

PROJECTIONS = """
CREATE TABLE vehicles (
    id TEXT PRIMARY KEY,
    name TEXT NOT NULL,
    search TEXT NOT NULL,
    units TEXT,
    driving_side TEXT,
    retired INTEGER NOT NULL CHECK (retired IN (0, 1)),
    record TEXT NOT NULL CHECK (json_valid(record))
) STRICT;
CREATE INDEX vehicles_by_name ON vehicles (name, id);
CREATE TABLE tags (
    code TEXT NOT NULL,
    vehicle TEXT NOT NULL,
    seq INTEGER NOT NULL,
    PRIMARY KEY (code, vehicle)
) STRICT;
CREATE INDEX tags_of_vehicle ON tags (vehicle);
CREATE TABLE jobs (
    id TEXT PRIMARY KEY,
    vehicle TEXT NOT NULL,
    axle TEXT NOT NULL,
    about TEXT NOT NULL,
    state TEXT NOT NULL CHECK (state IN ('open', 'pending', 'accepted', 'sent_back')),
    opened_seq INTEGER,
    opened_by TEXT,
    opened_at TEXT,
    handed_in_seq INTEGER,
    handed_in_by TEXT,
    handed_in_at TEXT,
    decided_seq INTEGER,
    decided_by TEXT,
    decided_at TEXT,
    last_seq INTEGER NOT NULL,
    recent INTEGER NOT NULL CHECK (recent IN (0, 1))
) STRICT;
CREATE INDEX jobs_of_vehicle ON jobs (vehicle, opened_seq);
CREATE INDEX jobs_by_state ON jobs (state, handed_in_seq);
"""

ACCESS = """
CREATE TABLE access (
    person TEXT PRIMARY KEY REFERENCES people (id),
    passphrase_hash TEXT CHECK (passphrase_hash <> ''),
    sessions INTEGER NOT NULL CHECK (sessions >= 0)
) STRICT;
"""

FAMILIES = """
CREATE INDEX tag_lines ON entries (seq) WHERE kind = 'tag' OR (kind = 'strike' AND job IS NULL);
CREATE TABLE leads (
    code TEXT NOT NULL UNIQUE,
    vehicle TEXT NOT NULL
) STRICT;
INSERT INTO leads SELECT code, vehicle FROM tags
WHERE seq = (SELECT max(seq) FROM tags AS same WHERE same.code = tags.code) ORDER BY seq;
DROP TABLE tags;
ALTER TABLE leads RENAME TO tags;
CREATE INDEX tags_of_vehicle ON tags (vehicle);
CREATE TABLE merged (
    vehicle TEXT NOT NULL UNIQUE,
    chief TEXT NOT NULL
) STRICT;
"""

DESK = """
ALTER TABLE jobs ADD COLUMN second_of TEXT;
CREATE INDEX seconds ON jobs (second_of, opened_seq) WHERE second_of IS NOT NULL;
CREATE INDEX jobs_of_state ON jobs (state, opened_seq);
CREATE INDEX jobs_by_opening ON jobs (opened_seq);
DROP INDEX vehicles_by_name;
ALTER TABLE vehicles DROP COLUMN search;
CREATE INDEX vehicles_by_name ON vehicles (retired, name, id);
CREATE INDEX merged_of_chief ON merged (chief);
DROP INDEX tag_lines;
CREATE INDEX tag_lines ON entries (seq) WHERE kind = 'tag'
OR (kind = 'strike' AND job IS NULL)
OR (kind = 'vehicle' AND json_extract(body, '$.merged_into') IS NOT NULL);
CREATE TABLE words (
    key TEXT NOT NULL UNIQUE,
    kind TEXT NOT NULL CHECK (kind IN ('vehicle', 'job', 'note')),
    vehicle TEXT,
    job TEXT,
    text TEXT NOT NULL,
    folded TEXT NOT NULL
) STRICT;
CREATE VIRTUAL TABLE words_index USING fts5(folded, kind, content='words');
CREATE TRIGGER words_come AFTER INSERT ON words BEGIN
INSERT INTO words_index (rowid, folded, kind) VALUES (new.rowid, new.folded, new.kind); END;
CREATE TRIGGER words_go AFTER DELETE ON words BEGIN
INSERT INTO words_index (words_index, rowid, folded, kind)
VALUES ('delete', old.rowid, old.folded, old.kind); END;
CREATE TRIGGER words_change AFTER UPDATE ON words BEGIN
INSERT INTO words_index (words_index, rowid, folded, kind)
VALUES ('delete', old.rowid, old.folded, old.kind);
INSERT INTO words_index (rowid, folded, kind) VALUES (new.rowid, new.folded, new.kind); END;
CREATE TABLE due (
    vehicle TEXT NOT NULL,
    axle TEXT NOT NULL,
    what TEXT NOT NULL CHECK (what IN ('recheck', 'remeasure')),
    day TEXT,
    distance REAL,
    unit TEXT,
    since TEXT NOT NULL,
    job TEXT,
    UNIQUE (vehicle, axle, what)
) STRICT;
CREATE INDEX due_by_day ON due (day IS NULL, day, since);
"""

# A number less its rank among its phone's numbers is the same all through a run without a gap.
NUMBERS = """
CREATE TABLE held_numbers (
    phone TEXT NOT NULL,
    first INTEGER NOT NULL CHECK (first >= 1),
    last INTEGER NOT NULL CHECK (last >= first),
    PRIMARY KEY (phone, first)
) STRICT, WITHOUT ROWID;
CREATE VIEW numbers_in_log AS
SELECT phone, min(local_no) AS first, max(local_no) AS last FROM (
    SELECT phone, local_no,
        local_no - dense_rank() OVER (PARTITION BY phone ORDER BY local_no) AS run
    FROM entries
) GROUP BY phone, run;
INSERT INTO held_numbers SELECT * FROM numbers_in_log;
"""


ACCEPTED = """
ALTER TABLE jobs ADD COLUMN accepted_seq INTEGER;
CREATE INDEX jobs_accepted ON jobs (vehicle, axle, accepted_seq) WHERE accepted_seq IS NOT NULL;
"""

SESSIONS = """
CREATE TABLE sessions (
    key_hash TEXT PRIMARY KEY CHECK (length(key_hash) = 64),
    person TEXT NOT NULL REFERENCES people (id),
    way TEXT NOT NULL CHECK (way IN ('passphrase', 'passkey', 'link', 'demo')),
    begun_at TEXT NOT NULL,
    last_used TEXT NOT NULL,
    source TEXT NOT NULL,
    browser TEXT NOT NULL
) STRICT;
CREATE INDEX sessions_of_person ON sessions (person, last_used);
CREATE TRIGGER roles_end_sessions AFTER UPDATE OF role ON people WHEN new.role <> old.role
BEGIN DELETE FROM sessions WHERE person = new.id; END;
ALTER TABLE access DROP COLUMN sessions;
"""

PASSKEYS = """
CREATE TABLE passkeys (
    id TEXT PRIMARY KEY CHECK (id <> ''),
    person TEXT NOT NULL REFERENCES people (id),
    name TEXT NOT NULL CHECK (name <> ''),
    credential BLOB NOT NULL,
    sign_count INTEGER NOT NULL CHECK (sign_count >= 0),
    added_at TEXT NOT NULL,
    last_used TEXT
) STRICT;
CREATE INDEX passkeys_of_person ON passkeys (person, added_at);
CREATE TRIGGER roles_end_passkeys AFTER UPDATE OF role ON people WHEN new.role <> old.role
BEGIN DELETE FROM passkeys WHERE person = new.id; END;
"""

# What the shop PC wrote itself, and the house limits, lie among many entries that they are not.
OWN_LINES = """
CREATE INDEX own_lines ON entries (seq) WHERE kind IN ('person', 'setting', 'door');
CREATE INDEX person_lines ON entries (seq) WHERE kind = 'person';
CREATE INDEX limit_lines ON entries (seq)
WHERE vehicle IS NULL AND job IS NULL AND kind IN ('limit', 'strike');
"""


# What strikes or replaces an entry that is not here, until that is held against who may.
AHEAD = """
CREATE TABLE ahead (
    id TEXT PRIMARY KEY REFERENCES entries (id),
    waits_for TEXT NOT NULL,
    by_lead INTEGER NOT NULL CHECK (by_lead IN (0, 1))
) STRICT;
CREATE INDEX ahead_of ON ahead (waits_for);
"""


def run(db: Database, script: str) -> None:
    """Run several statements one by one; sqlite3's own executescript would commit in between."""
    statement = ""
    for line in script.splitlines():
        statement += line + "\n"
        if sqlite3.complete_statement(statement):
            db.execute(statement)
            statement = ""


@migrations()
def make_entries(db: Database) -> None:
    """The log itself, and the place for entries that clash with a stored one."""
    run(db, ENTRIES)


@migrations()
def make_people(db: Database) -> None:
    """People, their phones, pairings, and the shop's own facts."""
    run(db, PEOPLE)
    db.execute("INSERT INTO facts VALUES ('server_id', ?), ('epoch', '1')", [str(uuid.uuid4())])


@migrations()
def make_projections(db: Database) -> None:
    """What the pages read."""
    run(db, PROJECTIONS)


@migrations()
def make_access(db: Database) -> None:
    """How people get in at the desk."""
    run(db, ACCESS)


@migrations()
def make_families(db: Database) -> None:
    """One vehicle for each tag, and the vehicles that turned out to be another one."""
    run(db, FAMILIES)


@migrations()
def index_numbers(db: Database) -> None:
    """A way to the running numbers of each phone, so that missing ones are found at once."""
    db.execute("CREATE INDEX entries_of_phone ON entries (phone, local_no)")


@migrations()
def make_desk(db: Database) -> None:
    """What the lead searches, what is due, and second readings."""
    run(db, DESK)


@migrations()
def keep_numbers(db: Database) -> None:
    """The running numbers that the log holds of each phone, so that nobody has to count them."""
    run(db, NUMBERS)


@migrations()
def keep_acceptance(db: Database) -> None:
    """By which entry each job was accepted, also while the lead looks at it again."""
    run(db, ACCEPTED)


@migrations()
def make_sessions(db: Database) -> None:
    """Who is signed in at the desk, where, and since when; before, the cookies alone said so."""
    run(db, SESSIONS)


@migrations()
def make_passkeys(db: Database) -> None:
    """The passkeys with which leads sign in, beside their passphrases."""
    run(db, PASSKEYS)


@migrations()
def index_own_lines(db: Database) -> None:
    """A way to what the shop PC wrote itself and to the house limits."""
    run(db, OWN_LINES)


@migrations()
def keep_what_is_ahead(db: Database) -> None:
    """Strikes and replacements of what is not here yet, so that they are looked at once it is."""
    run(db, AHEAD)
