package org.evenwash.logger.wash;

import java.util.List;
import java.util.UUID;
import org.evenwash.logger.secret.BenchPassword;
import org.evenwash.logger.store.Bench;
import org.evenwash.logger.store.BenchEvents;
import org.evenwash.logger.store.Benches;
import org.evenwash.logger.store.Listing;
import org.evenwash.logger.store.MissingNumbers;
import org.evenwash.logger.store.OutboxNumbers;
import org.evenwash.logger.store.Page;
import org.evenwash.record.BenchCommand;
import org.evenwash.record.BenchEvent;
import org.evenwash.record.Ids;
import org.evenwash.record.Topics;
import org.jdbi.v3.core.Handle;

/** Benches: their access to the broker, what they reported, and the two things to ask of one. */
public final class BenchRegister {
    private final Desk desk;
    private final BenchLink link;
    private final MissingNumbers missing = new MissingNumbers();

    BenchRegister(Desk desk, BenchLink link) {
        this.desk = desk;
        this.link = link;
    }

    /**
     * Lets a bench in, or gives one that was let in a new password.
     *
     * @return the password, which is kept nowhere in clear
     */
    public String admit(String benchId, String name, boolean simulated, By by) {
        checkId(benchId);
        String password = BenchPassword.make();
        String hash = BenchPassword.hash(password);
        Bench bench =
                new Bench(benchId, Entry.name("bench", name), hash, simulated, desk.now(), null);
        desk.onceAt(by, "admit bench", benchId, Ids.next(), handle -> Benches.put(handle, bench));
        return password;
    }

    /**
     * Shuts a bench out, such as one that was stolen. Its password is void at once; the embedded broker
     * cuts its connection within a few seconds. What it sent before stays.
     *
     * @return whether it had a password
     */
    public boolean revoke(String benchId, By by) {
        boolean had = bench(benchId).passwordHash() != null;
        desk.onceAt(
                by,
                "shut out bench",
                benchId,
                Ids.next(),
                handle -> Benches.revoke(handle, benchId));
        return had;
    }

    private static void checkId(String benchId) {
        try {
            Topics.of(Entry.present("bench id", benchId), Topics.Kind.STATE);
        } catch (IllegalArgumentException e) {
            throw Refused.invalid(
                    "bench id",
                    "reads '" + benchId + "'",
                    "use 1 to 32 of the characters a-z 0-9 and -");
        }
    }

    public List<Bench> benches() {
        return desk.read(Benches::all);
    }

    public Bench bench(String benchId) {
        return desk.read(handle -> bench(handle, benchId));
    }

    static Bench bench(Handle handle, String benchId) {
        return Benches.find(handle, Entry.present("bench", benchId))
                .orElseThrow(() -> Refused.notFound("bench", benchId));
    }

    /** Newest first. */
    public Listing<BenchEvent> events(String benchId, Page page) {
        return desk.read(handle -> BenchEvents.list(handle, benchId, page));
    }

    /** Message numbers that a bench has used and that never came, the first of them where they are many. */
    public List<OutboxNumbers.Gap> missing(String benchId) {
        return desk.read(
                handle ->
                        OutboxNumbers.outboxes(handle, benchId).stream()
                                .flatMap(outbox -> missing.of(handle, outbox).stream())
                                .toList());
    }

    /** Message numbers that were used twice, as after a copied memory card; null for all benches. */
    public List<OutboxNumbers.Clash> usedTwice(String benchId) {
        return desk.read(handle -> OutboxNumbers.clashes(handle, benchId));
    }

    /** Asks a bench to hold the cycle it is running. */
    public void hold(String benchId, UUID cycleId) {
        send(benchId, cycleId, BenchCommand.Action.HOLD);
    }

    /** Asks a bench to stop the cycle it is running. */
    public void stop(String benchId, UUID cycleId) {
        send(benchId, cycleId, BenchCommand.Action.STOP);
    }

    private void send(String benchId, UUID cycleId, BenchCommand.Action action) {
        bench(benchId);
        BenchCommand command =
                new BenchCommand(
                        BenchCommand.SCHEMA,
                        Ids.next(),
                        benchId,
                        desk.now(),
                        action,
                        Entry.present("cycle", cycleId),
                        null);
        if (!link.send(command)) {
            throw Refused.unavailable(
                    "bench " + benchId,
                    "cannot be reached: the broker is away",
                    "use the button at the bench");
        }
    }
}
