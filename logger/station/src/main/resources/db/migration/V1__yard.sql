-- The same scripts run on SQLite and on PostgreSQL. Ids are UUIDs as text, instants are milliseconds
-- since 1970 in UTC, days are ISO dates as text, JSON is text. `version` counts edits of a row: an
-- edit names the version that it saw, so that two people cannot overwrite each other unseen.

-- What this database is; one row a fact. `demonstration` = true lets simulated cycles count.
CREATE TABLE database_fact (
    name  TEXT PRIMARY KEY,
    value TEXT NOT NULL
);

CREATE TABLE operator (
    id         TEXT PRIMARY KEY,
    name       TEXT NOT NULL UNIQUE,
    active     BOOLEAN NOT NULL,
    created_at BIGINT NOT NULL
);

CREATE TABLE apiary (
    id         TEXT PRIMARY KEY,
    name       TEXT NOT NULL UNIQUE,
    time_zone  TEXT NOT NULL,
    hemisphere TEXT NOT NULL CHECK (hemisphere IN ('NORTHERN', 'SOUTHERN')),
    remarks    TEXT NOT NULL DEFAULT '',
    created_at BIGINT NOT NULL,
    version    BIGINT NOT NULL DEFAULT 1
);

-- The id is permanent; name, apiary and end follow from the colony's events and are kept here to be
-- found fast.
CREATE TABLE colony (
    id         TEXT PRIMARY KEY,
    apiary_id  TEXT NOT NULL REFERENCES apiary (id),
    name       TEXT NOT NULL,
    ended_on   TEXT,
    remarks    TEXT NOT NULL DEFAULT '',
    created_at BIGINT NOT NULL,
    version    BIGINT NOT NULL DEFAULT 1
);
CREATE INDEX colony_by_apiary ON colony (apiary_id, name);

CREATE TABLE colony_event (
    id              TEXT PRIMARY KEY,
    colony_id       TEXT NOT NULL REFERENCES colony (id),
    kind            TEXT NOT NULL CHECK (kind IN ('RENAME', 'MOVE', 'REQUEEN', 'SPLIT', 'MERGE',
                        'SWARM', 'DEATH', 'TREATMENT')),
    on_day          TEXT NOT NULL,
    until_day       TEXT,
    earlier_name    TEXT,
    later_name      TEXT,
    from_apiary_id  TEXT REFERENCES apiary (id),
    to_apiary_id    TEXT REFERENCES apiary (id),
    other_colony_id TEXT REFERENCES colony (id),
    substance       TEXT,
    remarks         TEXT NOT NULL DEFAULT '',
    recorded_at     BIGINT NOT NULL,
    recorded_by     TEXT REFERENCES operator (id),
    withdrawn_at    BIGINT
);
CREATE INDEX colony_event_by_colony ON colony_event (colony_id, on_day);

-- Every correction of anything that is evidence: what it read before, what it reads now, who, when, why.
CREATE TABLE correction (
    id           TEXT PRIMARY KEY,
    subject      TEXT NOT NULL,
    subject_id   TEXT NOT NULL,
    wash_id      TEXT,
    field        TEXT NOT NULL,
    earlier      TEXT,
    later        TEXT,
    version      BIGINT NOT NULL,
    corrected_at BIGINT NOT NULL,
    corrected_by TEXT REFERENCES operator (id),
    why          TEXT NOT NULL
);
CREATE INDEX correction_by_subject ON correction (subject_id, version);
CREATE INDEX correction_by_wash ON correction (wash_id, corrected_at);

-- A form sent twice is done once: the key names the first answer.
CREATE TABLE idempotency_key (
    key         TEXT PRIMARY KEY,
    operation   TEXT NOT NULL,
    answer_id   TEXT NOT NULL,
    answered_at BIGINT NOT NULL
);
