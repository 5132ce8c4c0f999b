-- Benches, what they sent, and what could not be read.

CREATE TABLE bench (
    id            TEXT PRIMARY KEY,
    name          TEXT NOT NULL,
    password_hash TEXT,
    simulated     BOOLEAN NOT NULL DEFAULT FALSE,
    added_at      BIGINT NOT NULL,
    last_seen_at  BIGINT
);

-- A recipe is never changed, only followed by its next version.
CREATE TABLE recipe (
    recipe_id      TEXT NOT NULL,
    version        INTEGER NOT NULL,
    name           TEXT NOT NULL,
    hash           TEXT NOT NULL,
    agitation_s    DOUBLE PRECISION NOT NULL,
    sheet_json     TEXT NOT NULL,
    calibration_id TEXT,
    created_at     BIGINT NOT NULL,
    created_by     TEXT REFERENCES operator (id),
    retired_at     BIGINT,
    PRIMARY KEY (recipe_id, version)
);

-- The record as it came, with the columns by which it is looked up.
CREATE TABLE cycle (
    id                  TEXT PRIMARY KEY,
    bench_id            TEXT NOT NULL,
    outbox_id           TEXT NOT NULL,
    sequence            BIGINT NOT NULL,
    simulated           BOOLEAN NOT NULL,
    outcome             TEXT NOT NULL,
    started_at          BIGINT NOT NULL,
    ended_at            BIGINT NOT NULL,
    clock               TEXT NOT NULL,
    duration_s          DOUBLE PRECISION NOT NULL,
    planned_agitation_s DOUBLE PRECISION NOT NULL,
    agitation_s         DOUBLE PRECISION NOT NULL,
    within_tolerance_s  DOUBLE PRECISION NOT NULL,
    conforms            BOOLEAN NOT NULL,
    departures          TEXT NOT NULL,
    continues_cycle_id  TEXT,
    recipe_id           TEXT NOT NULL,
    recipe_version      INTEGER NOT NULL,
    recipe_hash         TEXT NOT NULL,
    sequence_clash      BOOLEAN NOT NULL,
    sha256              TEXT NOT NULL,
    record_json         TEXT NOT NULL,
    received_at         BIGINT NOT NULL
);
CREATE INDEX cycle_by_start ON cycle (started_at);
CREATE INDEX cycle_by_bench ON cycle (bench_id, started_at);

-- How long each jar stood in spirit afterwards; `removed` is false where it was still there.
CREATE TABLE cycle_soak (
    cycle_id TEXT NOT NULL REFERENCES cycle (id),
    position INTEGER NOT NULL,
    soak_s   DOUBLE PRECISION NOT NULL,
    removed  BOOLEAN NOT NULL,
    PRIMARY KEY (cycle_id, position)
);

CREATE TABLE bench_event (
    id             TEXT PRIMARY KEY,
    bench_id       TEXT NOT NULL,
    outbox_id      TEXT NOT NULL,
    sequence       BIGINT NOT NULL,
    simulated      BOOLEAN NOT NULL,
    happened_at    BIGINT NOT NULL,
    clock          TEXT NOT NULL,
    kind           TEXT NOT NULL,
    tag            TEXT,
    cycle_id       TEXT,
    ticket_id      TEXT,
    text           TEXT NOT NULL,
    sequence_clash BOOLEAN NOT NULL,
    sha256         TEXT NOT NULL,
    event_json     TEXT NOT NULL,
    received_at    BIGINT NOT NULL
);
CREATE INDEX bench_event_by_bench ON bench_event (bench_id, happened_at);
CREATE INDEX bench_event_by_cycle ON bench_event (cycle_id);

-- Which numbers of each outbox have come. Not a foreign key to the message: two messages may claim the
-- same number (a copied card), and both are kept.
CREATE TABLE outbox_number (
    outbox_id  TEXT NOT NULL,
    sequence   BIGINT NOT NULL,
    message_id TEXT NOT NULL,
    bench_id   TEXT NOT NULL,
    PRIMARY KEY (outbox_id, sequence, message_id)
);

-- BYTEA is PostgreSQL's word; SQLite keeps the bytes as they are under any.
CREATE TABLE set_aside (
    id           TEXT PRIMARY KEY,
    received_at  BIGINT NOT NULL,
    topic        TEXT NOT NULL,
    bench_id     TEXT,
    message_id   TEXT,
    reason       TEXT NOT NULL,
    payload      BYTEA NOT NULL,
    sha256       TEXT NOT NULL,
    size_bytes   BIGINT NOT NULL,
    replayed_at   BIGINT,
    replay_result TEXT,
    UNIQUE (topic, sha256)
);
CREATE INDEX set_aside_by_time ON set_aside (received_at);
