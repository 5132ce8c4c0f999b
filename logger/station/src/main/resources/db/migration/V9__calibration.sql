-- Second washes from which a recovery or an agitation time may be found.

-- A wash that a person left out of calibration and comparison, and why.
CREATE TABLE study_exclusion (
    wash_id     TEXT PRIMARY KEY REFERENCES wash (id),
    why         TEXT NOT NULL,
    excluded_at BIGINT NOT NULL,
    excluded_by TEXT REFERENCES operator (id)
);

-- By which fill line or mass the bees of a wash were estimated.
CREATE TABLE wash_bee_calibration (
    wash_id        TEXT PRIMARY KEY REFERENCES wash (id),
    calibration_id TEXT NOT NULL REFERENCES calibration (id)
);

-- Few washes are washed twice; they are found without reading all the others.
CREATE INDEX pass_second ON pass (wash_id) WHERE kind = 'SECOND';
CREATE INDEX mite_count_recount ON mite_count (pass_id) WHERE recount;
CREATE INDEX recipe_calibration ON recipe (calibration_id);
