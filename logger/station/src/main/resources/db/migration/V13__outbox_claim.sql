-- A number of an outbox belongs to the message that claimed it first, so that of two loggers at once one
-- finds it taken. Before, both messages stood in one table, and each logger could believe it was alone.
ALTER TABLE outbox_number RENAME TO outbox_number_before;

CREATE TABLE outbox_number (
    outbox_id  TEXT NOT NULL,
    sequence   BIGINT NOT NULL,
    message_id TEXT NOT NULL,
    bench_id   TEXT NOT NULL,
    PRIMARY KEY (outbox_id, sequence)
);

-- Messages whose number another one had claimed before (a copied card): both are kept.
CREATE TABLE outbox_clash (
    outbox_id  TEXT NOT NULL,
    sequence   BIGINT NOT NULL,
    message_id TEXT NOT NULL,
    bench_id   TEXT NOT NULL,
    PRIMARY KEY (outbox_id, sequence, message_id)
);

INSERT INTO outbox_clash (outbox_id, sequence, message_id, bench_id)
SELECT outbox_id, sequence, message_id, bench_id FROM outbox_number_before
WHERE message_id IN (SELECT id FROM cycle WHERE sequence_clash)
    OR message_id IN (SELECT id FROM bench_event WHERE sequence_clash);

INSERT INTO outbox_number (outbox_id, sequence, message_id, bench_id)
SELECT outbox_id, sequence, MIN(message_id), MIN(bench_id) FROM outbox_number_before
WHERE NOT EXISTS (
    SELECT 1 FROM outbox_clash
    WHERE outbox_clash.outbox_id = outbox_number_before.outbox_id
        AND outbox_clash.sequence = outbox_number_before.sequence
        AND outbox_clash.message_id = outbox_number_before.message_id)
GROUP BY outbox_id, sequence;

DROP TABLE outbox_number_before;
