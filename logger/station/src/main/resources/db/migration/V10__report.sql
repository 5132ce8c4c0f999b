-- Reports as they are handed out: numbered, with the very bytes, and with everything they rest on. The
-- tables of the first script were never written to, so they are made anew.
DROP TABLE report_wash;
DROP TABLE report;

CREATE TABLE report (
    id                TEXT PRIMARY KEY,
    number            BIGINT NOT NULL UNIQUE,
    kind              TEXT NOT NULL CHECK (kind IN ('WASH', 'COLONY', 'APIARY_DAY', 'CALIBRATION')),
    subject_id        TEXT NOT NULL,
    -- The day of an apiary's report; NULL for the other kinds.
    on_day            TEXT,
    title             TEXT NOT NULL,
    language          TEXT NOT NULL,
    inputs_json       TEXT NOT NULL,
    result_json       TEXT NOT NULL,
    method_version    TEXT NOT NULL,
    protocol_edition  TEXT,
    threshold_edition TEXT,
    made_at           BIGINT NOT NULL,
    made_by           TEXT REFERENCES operator (id),
    superseded_at     BIGINT,
    superseded_by     TEXT REFERENCES operator (id),
    superseded_why    TEXT
);
CREATE INDEX report_by_subject ON report (kind, subject_id, made_at);

-- Shown again exactly as handed out, whatever a later version of the program would make of it.
CREATE TABLE report_file (
    report_id TEXT NOT NULL REFERENCES report (id),
    format    TEXT NOT NULL CHECK (format IN ('HTML', 'PDF')),
    bytes     BYTEA NOT NULL,
    sha256    TEXT NOT NULL,
    PRIMARY KEY (report_id, format)
);

-- Whatever a report rests on, by id: washes, colonies, spirit batches, a calibration; an apiary's day
-- as its id and the day with a slash between.
CREATE TABLE report_basis (
    report_id TEXT NOT NULL REFERENCES report (id),
    basis     TEXT NOT NULL,
    PRIMARY KEY (report_id, basis)
);
CREATE INDEX report_basis_by_basis ON report_basis (basis);
