-- What washes are judged by, and what was concluded from them.

-- Which protocol or threshold edition an apiary (or, without one, the whole station) uses, and since
-- when. The content is kept with the choice: a new edition of the file never alters an old verdict.
CREATE TABLE edition_choice (
    id           TEXT PRIMARY KEY,
    kind         TEXT NOT NULL CHECK (kind IN ('PROTOCOL', 'THRESHOLD')),
    apiary_id    TEXT REFERENCES apiary (id),
    key          TEXT NOT NULL,
    edition      TEXT NOT NULL,
    content_json TEXT NOT NULL,
    chosen_at    BIGINT NOT NULL,
    chosen_by    TEXT REFERENCES operator (id),
    ended_at     BIGINT
);
CREATE INDEX edition_choice_now ON edition_choice (kind, apiary_id, ended_at);

CREATE TABLE calibration (
    id             TEXT PRIMARY KEY,
    kind           TEXT NOT NULL CHECK (kind IN ('RECOVERY', 'AGITATION_TIME', 'FILL_LINE', 'MASS',
                       'BENCH_SPEED')),
    name           TEXT NOT NULL,
    bench_id       TEXT REFERENCES bench (id),
    recipe_id      TEXT,
    recipe_version INTEGER,
    inputs_json    TEXT NOT NULL,
    result_json    TEXT NOT NULL,
    method_version TEXT NOT NULL,
    simulated      BOOLEAN NOT NULL,
    made_at        BIGINT NOT NULL,
    made_by        TEXT REFERENCES operator (id),
    used_from      BIGINT,
    used_until     BIGINT
);
CREATE INDEX calibration_by_kind ON calibration (kind, used_from);

-- A result that was handed out keeps all it was made of. A correction marks it superseded.
CREATE TABLE report (
    id                TEXT PRIMARY KEY,
    kind              TEXT NOT NULL CHECK (kind IN ('WASH', 'COLONY', 'APIARY_DAY', 'CALIBRATION')),
    subject_id        TEXT NOT NULL,
    inputs_json       TEXT NOT NULL,
    result_json       TEXT NOT NULL,
    method_version    TEXT NOT NULL,
    protocol_edition  TEXT,
    threshold_edition TEXT,
    made_at           BIGINT NOT NULL,
    made_by           TEXT REFERENCES operator (id),
    superseded_at     BIGINT,
    superseded_why    TEXT
);
CREATE INDEX report_by_subject ON report (kind, subject_id, made_at);
CREATE TABLE report_wash (
    report_id TEXT NOT NULL REFERENCES report (id),
    wash_id   TEXT NOT NULL REFERENCES wash (id),
    PRIMARY KEY (report_id, wash_id)
);
CREATE INDEX report_wash_by_wash ON report_wash (wash_id);
