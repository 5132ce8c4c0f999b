package org.evenwash.logger.wash;

import java.time.Clock;
import java.time.Instant;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Consumer;
import java.util.function.Function;
import org.evenwash.logger.store.Correction;
import org.evenwash.logger.store.Corrections;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.IdempotencyKeys;
import org.evenwash.logger.store.Operators;
import org.evenwash.logger.store.Reports;
import org.evenwash.record.Ids;
import org.jdbi.v3.core.Handle;

/** What all services share: the database, the clock, and writing once however often it is asked. */
final class Desk {
    private final Database database;
    private final Clock clock;

    Desk(Database database, Clock clock) {
        this.database = database;
        this.clock = clock;
    }

    Instant now() {
        return clock.instant();
    }

    Clock clock() {
        return clock;
    }

    boolean demonstration() {
        return database.demonstration();
    }

    /** See {@link Database#fact}. */
    Optional<String> fact(String name) {
        return database.fact(name);
    }

    <T> T read(Function<Handle, T> work) {
        return database.read(work);
    }

    /**
     * One transaction, done unless its key was seen before.
     *
     * @param id of what is made or changed
     * @return that id, or the one that the first request with this key was answered with
     */
    UUID once(By by, String operation, UUID id, Consumer<Handle> work) {
        return database.write(
                handle -> {
                    mustBeKnown(handle, by.operatorId());
                    if (by.key() != null
                            && !IdempotencyKeys.take(handle, by.key(), operation, id, now())) {
                        return answeredBefore(handle, by.key(), operation);
                    }
                    work.accept(handle);
                    return id;
                });
    }

    /** Refuses a person that is not in the list; null stands for nobody. */
    static void mustBeKnown(Handle handle, UUID operatorId) {
        if (operatorId != null && Operators.find(handle, operatorId).isEmpty()) {
            throw Refused.notFound("operator", operatorId);
        }
    }

    private static UUID answeredBefore(Handle handle, String key, String operation) {
        IdempotencyKeys.Answer earlier = IdempotencyKeys.find(handle, key).orElseThrow();
        if (!earlier.operation().equals(operation)) {
            throw Refused.conflict(
                    "idempotency key",
                    "was used before to " + earlier.operation(),
                    "send a new one with each change");
        }
        return earlier.answerId();
    }

    /** Marks superseded what was reported on anything of these; see {@link Reports#supersede}. */
    void overtake(Handle handle, By by, String why, String... basis) {
        for (String one : basis) {
            Reports.supersede(handle, one, why, by.operatorId(), now());
        }
    }

    /** Corrections of one row, written together. */
    final class Changes {
        private final Handle handle;
        private final By by;
        private final String subject;
        private final UUID subjectId;
        private final UUID washId;
        private final long version;
        private final String why;
        private boolean any;

        Changes(
                Handle handle,
                By by,
                String subject,
                UUID subjectId,
                UUID washId,
                long version,
                String why) {
            this.handle = handle;
            this.by = by;
            this.subject = subject;
            this.subjectId = subjectId;
            this.washId = washId;
            this.version = version;
            this.why = why;
        }

        Changes field(String name, Object earlier, Object later) {
            if (!Objects.equals(earlier, later)) {
                any = true;
                Corrections.insert(
                        handle,
                        new Correction(
                                Ids.next(),
                                subject,
                                subjectId,
                                washId,
                                name,
                                earlier == null ? null : earlier.toString(),
                                later == null ? null : later.toString(),
                                version,
                                now(),
                                by.operatorId(),
                                why));
            }
            return this;
        }

        /** Marks earlier reports superseded if anything changed; tells whether it did. */
        boolean done() {
            if (any) {
                boolean first = why.equals("entered") || why.equals("attached");
                String what = subject + (first ? " " : " corrected: ") + why;
                overtake(handle, by, what, subjectId.toString());
                if (washId != null) {
                    overtake(handle, by, what, washId.toString());
                }
            }
            return any;
        }
    }
}
