-- A wash: one sample of bees, its passes through spirit, and what was counted.

CREATE TABLE spirit_batch (
    id              TEXT PRIMARY KEY,
    name            TEXT NOT NULL UNIQUE,
    kind            TEXT NOT NULL,
    strength_pctvol DOUBLE PRECISION,
    flash_point_c   DOUBLE PRECISION,
    volume_ml       DOUBLE PRECISION,
    mixed_on        TEXT,
    discarded_on    TEXT,
    mixing_json     TEXT,
    remarks         TEXT NOT NULL DEFAULT '',
    created_at      BIGINT NOT NULL,
    version         BIGINT NOT NULL DEFAULT 1
);

CREATE TABLE wash (
    id              TEXT PRIMARY KEY,
    colony_id       TEXT NOT NULL REFERENCES colony (id),
    apiary_id       TEXT NOT NULL REFERENCES apiary (id),
    sampled_on      TEXT NOT NULL,
    operator_id     TEXT REFERENCES operator (id),
    frame           TEXT NOT NULL CHECK (frame IN ('BROOD_NEST', 'HONEY', 'OTHER', 'NOT_STATED')),
    queen_check     TEXT NOT NULL CHECK (queen_check IN ('SEEN_ELSEWHERE', 'CHECKED_NOT_SEEN',
                        'NOT_CHECKED', 'NOT_STATED')),
    bee_measure     TEXT NOT NULL CHECK (bee_measure IN ('COUNTED', 'FILL_LINE', 'MASS',
                        'NOT_STATED')),
    bees            DOUBLE PRECISION CHECK (bees > 0),
    bees_log_sd     DOUBLE PRECISION,
    sample_mass_g   DOUBLE PRECISION,
    bees_counted_by TEXT REFERENCES operator (id),
    rinses          INTEGER,
    remarks         TEXT NOT NULL DEFAULT '',
    simulated       BOOLEAN NOT NULL,
    planned_at      BIGINT NOT NULL,
    removed_at      BIGINT,
    version         BIGINT NOT NULL DEFAULT 1
);
CREATE INDEX wash_by_day ON wash (sampled_on, planned_at);
CREATE INDEX wash_by_colony ON wash (colony_id, sampled_on);
CREATE INDEX wash_by_apiary ON wash (apiary_id, sampled_on);

CREATE TABLE pass (
    id                TEXT PRIMARY KEY,
    wash_id           TEXT NOT NULL REFERENCES wash (id),
    kind              TEXT NOT NULL CHECK (kind IN ('FIRST', 'SECOND', 'BLANK')),
    spirit_batch_id   TEXT REFERENCES spirit_batch (id),
    -- Agitation of a wash shaken without a bench, as a person timed it.
    hand_agitation_s  DOUBLE PRECISION,
    version           BIGINT NOT NULL DEFAULT 1,
    UNIQUE (wash_id, kind)
);
CREATE INDEX pass_by_spirit ON pass (spirit_batch_id);

CREATE TABLE pass_cycle (
    cycle_id    TEXT NOT NULL REFERENCES cycle (id),
    position    INTEGER NOT NULL CHECK (position BETWEEN 1 AND 8),
    pass_id     TEXT NOT NULL REFERENCES pass (id),
    attached_at BIGINT NOT NULL,
    attached_by TEXT REFERENCES operator (id),
    PRIMARY KEY (cycle_id, position)
);
CREATE INDEX pass_cycle_by_pass ON pass_cycle (pass_id);

-- Jar positions that no wash has claimed: the cycles waiting to be tied to one.
CREATE TABLE unassigned_position (
    cycle_id TEXT NOT NULL REFERENCES cycle (id),
    position INTEGER NOT NULL,
    kind     TEXT NOT NULL,
    PRIMARY KEY (cycle_id, position)
);

-- Mites of one pass counted once by one person. A recount is another row, not a correction.
CREATE TABLE mite_count (
    id         TEXT PRIMARY KEY,
    pass_id    TEXT NOT NULL REFERENCES pass (id),
    mites      INTEGER NOT NULL CHECK (mites >= 0),
    counted_by TEXT REFERENCES operator (id),
    counted_at BIGINT NOT NULL,
    recount    BOOLEAN NOT NULL,
    blind      BOOLEAN NOT NULL,
    version    BIGINT NOT NULL DEFAULT 1
);
CREATE INDEX mite_count_by_pass ON mite_count (pass_id, counted_at);
-- One count is the one that results rest on; all others are recounts beside it.
CREATE UNIQUE INDEX mite_count_first ON mite_count (pass_id) WHERE NOT recount;

CREATE TABLE spirit_use (
    id              TEXT PRIMARY KEY,
    spirit_batch_id TEXT NOT NULL REFERENCES spirit_batch (id),
    kind            TEXT NOT NULL CHECK (kind IN ('WASH', 'TOP_UP', 'LOSS', 'SIEVED', 'MURKY')),
    pass_id         TEXT REFERENCES pass (id),
    volume_ml       DOUBLE PRECISION,
    strength_pctvol DOUBLE PRECISION,
    remarks         TEXT NOT NULL DEFAULT '',
    happened_at     BIGINT NOT NULL,
    recorded_by     TEXT REFERENCES operator (id),
    UNIQUE (pass_id, kind)
);
CREATE INDEX spirit_use_by_batch ON spirit_use (spirit_batch_id, happened_at);

CREATE TABLE ticket (
    id          TEXT PRIMARY KEY,
    wash_id     TEXT NOT NULL REFERENCES wash (id),
    pass        TEXT NOT NULL CHECK (pass IN ('FIRST', 'SECOND', 'BLANK')),
    bench_id    TEXT NOT NULL REFERENCES bench (id),
    position    INTEGER NOT NULL CHECK (position BETWEEN 1 AND 8),
    standing    TEXT NOT NULL CHECK (standing IN ('ISSUED', 'ACCEPTED', 'REFUSED', 'WITHDRAWN', 'RUN')),
    reason      TEXT,
    ticket_json TEXT NOT NULL,
    issued_at   BIGINT NOT NULL,
    issued_by   TEXT REFERENCES operator (id),
    closed_at   BIGINT
);
CREATE INDEX ticket_by_bench ON ticket (bench_id, standing);
CREATE INDEX ticket_by_wash ON ticket (wash_id);

CREATE TABLE photo (
    id         TEXT PRIMARY KEY,
    wash_id    TEXT NOT NULL REFERENCES wash (id),
    media_type TEXT NOT NULL,
    bytes      BYTEA NOT NULL,
    taken_at   BIGINT NOT NULL,
    added_by   TEXT REFERENCES operator (id)
);
CREATE INDEX photo_by_wash ON photo (wash_id);

-- A day's work: colonies drawn with a recorded seed, and the claim that this many will allow.
CREATE TABLE day_plan (
    id         TEXT PRIMARY KEY,
    apiary_id  TEXT NOT NULL REFERENCES apiary (id),
    on_day     TEXT NOT NULL,
    seed       BIGINT,
    claim_json TEXT,
    created_at BIGINT NOT NULL,
    created_by TEXT REFERENCES operator (id)
);
CREATE TABLE day_plan_wash (
    plan_id TEXT NOT NULL REFERENCES day_plan (id),
    ordinal INTEGER NOT NULL,
    wash_id TEXT NOT NULL REFERENCES wash (id),
    PRIMARY KEY (plan_id, ordinal)
);
