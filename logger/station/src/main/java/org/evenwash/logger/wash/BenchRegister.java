package org.evenwash.logger.wash;

import at.favre.lib.crypto.bcrypt.BCrypt;
import java.security.SecureRandom;
import java.util.Base64;
import java.util.List;
import java.util.UUID;
import org.evenwash.logger.store.Bench;
import org.evenwash.logger.store.BenchEvents;
import org.evenwash.logger.store.Benches;
import org.evenwash.logger.store.Listing;
import org.evenwash.logger.store.OutboxNumbers;
import org.evenwash.logger.store.Page;
import org.evenwash.record.BenchCommand;
import org.evenwash.record.BenchEvent;
import org.evenwash.record.Topics;
import org.jdbi.v3.core.Handle;

/** Benches: their access to the broker, what they reported, and the two things to ask of one. */
public final class BenchRegister {
    private static final int PASSWORD_BYTES = 18;

    /** Passwords are random, 144 bits: hashing slowly would only slow every reconnect on a Pi. */
    private static final int BCRYPT_COST = 8;

    private final Desk desk;
    private final BenchLink link;

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
        byte[] random = new byte[PASSWORD_BYTES];
        new SecureRandom().nextBytes(random);
        String password = Base64.getUrlEncoder().withoutPadding().encodeToString(random);
        String hash = BCrypt.withDefaults().hashToString(BCRYPT_COST, password.toCharArray());
        Bench bench =
                new Bench(benchId, Entry.name("bench", name), hash, simulated, desk.now(), null);
        desk.once(by, "admit a bench", UUID.randomUUID(), handle -> Benches.put(handle, bench));
        return password;
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

    /** Message numbers that a bench has used and that never came; null for all benches. */
    public List<OutboxNumbers.Gap> missing(String benchId) {
        return desk.read(handle -> OutboxNumbers.gaps(handle, benchId));
    }

    /** Message numbers that were used twice, as after a copied memory card. */
    public List<OutboxNumbers.Clash> usedTwice() {
        return desk.read(OutboxNumbers::clashes);
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
                        UUID.randomUUID(),
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
