-- Who may use the pages. An account belongs to one person of `operator`, so that what is entered and
-- corrected has a name. Passwords are kept as bcrypt; of sessions and tokens only the SHA-256 is kept:
-- they are random, and whoever reads this database cannot use them.

CREATE TABLE account (
    id            TEXT PRIMARY KEY,
    operator_id   TEXT NOT NULL UNIQUE REFERENCES operator (id),
    name          TEXT NOT NULL UNIQUE,
    role          TEXT NOT NULL CHECK (role IN ('OPERATOR', 'REVIEWER', 'KEEPER')),
    password_hash TEXT NOT NULL,
    failures      INTEGER NOT NULL DEFAULT 0,
    locked_until  BIGINT,
    created_at    BIGINT NOT NULL,
    closed_at     BIGINT
);

-- In the database, not in memory: several loggers behind one address share them.
CREATE TABLE web_session (
    secret_hash TEXT PRIMARY KEY,
    account_id  TEXT NOT NULL REFERENCES account (id),
    started_at  BIGINT NOT NULL,
    seen_at     BIGINT NOT NULL
);
CREATE INDEX web_session_by_account ON web_session (account_id);

CREATE TABLE api_token (
    id           TEXT PRIMARY KEY,
    account_id   TEXT NOT NULL REFERENCES account (id),
    name         TEXT NOT NULL,
    -- Null: only the figures for a monitoring program.
    role         TEXT CHECK (role IN ('OPERATOR', 'REVIEWER', 'KEEPER')),
    secret_hash  TEXT NOT NULL UNIQUE,
    made_at      BIGINT NOT NULL,
    expires_at   BIGINT NOT NULL,
    used_at      BIGINT,
    withdrawn_at BIGINT
);
CREATE INDEX api_token_by_account ON api_token (account_id);
