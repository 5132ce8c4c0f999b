-- Files of old records as they were brought in, what became of them, and all that an undo needs.

-- The file itself is kept, packed: a mapping that was wrong can be put right after an undo.
CREATE TABLE import_file (
    id           TEXT PRIMARY KEY,
    name         TEXT NOT NULL,
    sha256       TEXT NOT NULL,
    size_bytes   BIGINT NOT NULL,
    packed       BYTEA NOT NULL,
    standing     TEXT NOT NULL CHECK (standing IN ('UPLOADED', 'CHECKED', 'IMPORTED', 'UNDONE')),
    plan_json    TEXT,
    outcome_json TEXT,
    uploaded_at  BIGINT NOT NULL,
    imported_at  BIGINT,
    imported_by  TEXT REFERENCES operator (id),
    undone_at    BIGINT,
    undone_by    TEXT REFERENCES operator (id),
    undone_why   TEXT
);
CREATE INDEX import_file_by_time ON import_file (uploaded_at);
CREATE INDEX import_file_by_content ON import_file (sha256);

-- From which line each imported wash came. `row_key` is the first 64 bits of a hash of what the line
-- says: the same line is known again, in this file or another.
CREATE TABLE import_wash (
    wash_id   TEXT PRIMARY KEY REFERENCES wash (id),
    import_id TEXT NOT NULL REFERENCES import_file (id),
    line      BIGINT NOT NULL,
    row_key   BIGINT NOT NULL
);
CREATE INDEX import_wash_by_import ON import_wash (import_id, line);

-- What had to be made for the washes of an import.
CREATE TABLE import_made (
    import_id  TEXT NOT NULL REFERENCES import_file (id),
    kind       TEXT NOT NULL CHECK (kind IN ('APIARY', 'COLONY', 'OPERATOR', 'SPIRIT')),
    subject_id TEXT NOT NULL,
    PRIMARY KEY (import_id, kind, subject_id)
);

-- An undo deletes washes; without this each one would read every planned wash.
CREATE INDEX day_plan_wash_by_wash ON day_plan_wash (wash_id);

-- How often each batch was used, and which use a pass was: read from the index alone.
CREATE INDEX spirit_use_in_order ON spirit_use (spirit_batch_id, kind, happened_at, id);
