package org.evenwash.logger.wash;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.atomic.AtomicReference;
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
    /**
     * A phone may keep a form from one round of the yard to the next; who sends it after a season
     * is told what has changed since by the version in it.
     */
    static final Duration KEYS_KEPT = Duration.ofDays(12 * 7);

    private static final Duration FORGET_KEYS_EVERY = Duration.ofDays(1);

    private final Database database;
    private final Clock clock;
    private final AtomicReference<Instant> keysDue = new AtomicReference<>(Instant.MIN);

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
     * Makes something, in one transaction; not again if the key was seen before.
     *
     * @param id of what is made
     * @return that id, or the one that the first request with this key was answered with
     */
    UUID once(By by, String operation, UUID id, Consumer<Handle> work) {
        if (by.key() != null) {
            forgetOldKeys();
        }
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

    /**
     * As {@link #once}, for what is done to something that is there: the same key at another thing
     * is refused, since answering it from memory would lose the change without a word.
     *
     * @param operation ends with the kind of thing, such as {@code enter a sample of wash}
     * @param target names the thing
     */
    UUID onceAt(By by, String operation, Object target, UUID id, Consumer<Handle> work) {
        return once(by, operation + " " + target, id, work);
    }

    /** As above, of a thing that is itself the answer. */
    UUID onceAt(By by, String operation, UUID target, Consumer<Handle> work) {
        return onceAt(by, operation, target, target, work);
    }

    /** Apart from the change, which would otherwise meet every other one in this table. */
    private void forgetOldKeys() {
        Instant due = keysDue.get();
        Instant now = now();
        if (!now.isBefore(due) && keysDue.compareAndSet(due, now.plus(FORGET_KEYS_EVERY))) {
            database.append(handle -> IdempotencyKeys.forget(handle, now.minus(KEYS_KEPT)));
        }
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
