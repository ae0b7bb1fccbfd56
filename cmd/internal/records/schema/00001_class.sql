-- The records of one class. The same text runs on SQLite and on PostgreSQL: every column is
-- TEXT or BIGINT, times are microseconds since 1970 in UTC with 0 for none, and a yes is 1.
-- +goose Up
CREATE TABLE class (
    one        BIGINT PRIMARY KEY CHECK (one = 1),
    name       TEXT NOT NULL,
    code       TEXT NOT NULL,
    passphrase TEXT NOT NULL,
    made       BIGINT NOT NULL
);

CREATE TABLE pupils (
    id    TEXT PRIMARY KEY,
    name  TEXT NOT NULL,
    asked TEXT NOT NULL UNIQUE,
    pin   TEXT NOT NULL,
    added BIGINT NOT NULL
);

CREATE TABLE assignments (
    id       TEXT PRIMARY KEY,
    exercise TEXT NOT NULL,
    title    TEXT NOT NULL,
    file     TEXT NOT NULL,
    families TEXT NOT NULL,
    mode     TEXT NOT NULL,
    jobs     BIGINT NOT NULL,
    numbers  TEXT NOT NULL,
    alike    BIGINT NOT NULL,
    tries    BIGINT NOT NULL,
    made     BIGINT NOT NULL,
    opens    BIGINT NOT NULL,
    closes   BIGINT NOT NULL,
    ended    BIGINT NOT NULL,
    returned BIGINT NOT NULL
);

CREATE TABLE extra_time (
    assignment TEXT NOT NULL REFERENCES assignments (id) ON DELETE CASCADE,
    pupil      TEXT NOT NULL REFERENCES pupils (id) ON DELETE CASCADE,
    minutes    BIGINT NOT NULL,
    PRIMARY KEY (assignment, pupil)
);

CREATE TABLE attempts (
    id         TEXT PRIMARY KEY,
    pupil      TEXT NOT NULL REFERENCES pupils (id) ON DELETE CASCADE,
    assignment TEXT REFERENCES assignments (id) ON DELETE CASCADE, -- none of practice on one's own
    job        BIGINT NOT NULL,
    try        BIGINT NOT NULL,
    head       TEXT NOT NULL,
    acts       BIGINT NOT NULL,
    signed     BIGINT NOT NULL,
    refused    BIGINT NOT NULL,
    stage      BIGINT NOT NULL,
    begun      BIGINT NOT NULL,
    latest     BIGINT NOT NULL,
    UNIQUE (pupil, assignment, job, try)
);

CREATE TABLE acts (
    attempt TEXT NOT NULL REFERENCES attempts (id) ON DELETE CASCADE,
    n       BIGINT NOT NULL,
    line    TEXT NOT NULL,
    done    BIGINT NOT NULL,
    PRIMARY KEY (attempt, n)
);

CREATE TABLE overrides (
    attempt TEXT PRIMARY KEY REFERENCES attempts (id) ON DELETE CASCADE,
    score   BIGINT NOT NULL,
    reason  TEXT NOT NULL,
    made    BIGINT NOT NULL
);

CREATE TABLE sessions (
    mark  TEXT PRIMARY KEY,
    who   TEXT NOT NULL,
    until BIGINT NOT NULL
);

CREATE TABLE failures (
    who TEXT NOT NULL,
    at  BIGINT NOT NULL
);

CREATE INDEX attempts_of_assignment ON attempts (assignment);
CREATE INDEX sessions_of ON sessions (who);
CREATE INDEX failures_of ON failures (who, at);

-- +goose Down
DROP TABLE failures;
DROP TABLE sessions;
DROP TABLE overrides;
DROP TABLE acts;
DROP TABLE attempts;
DROP TABLE extra_time;
DROP TABLE assignments;
DROP TABLE pupils;
DROP TABLE class;
