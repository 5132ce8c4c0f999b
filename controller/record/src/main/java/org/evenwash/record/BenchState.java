package org.evenwash.record;

import java.time.Instant;
import java.util.List;
import java.util.UUID;

/**
 * How a bench stands, retained by the broker. The last will is this message with state OFFLINE,
 * where all but the bench's id may be absent.
 *
 * @param state an ISA-88 state, or OFFLINE
 * @param tickets loaded tickets by jar position
 * @param interlocks every interlock that is tripped now, first cause first
 * @param startRefused why a start would be refused now; empty when it would be taken
 */
public record BenchState(
        String schema,
        String benchId,
        UUID bootId,
        boolean simulated,
        String controllerVersion,
        Instant at,
        ClockState clock,
        State state,
        UUID cycleId,
        RecipeSheet recipe,
        List<LoadedTicket> tickets,
        List<TrippedInterlock> interlocks,
        List<String> startRefused,
        boolean cautionsAcknowledged,
        ProofTest proofTest,
        OutboxState outbox)
        implements Message {

    public static final String SCHEMA = "state/1.0";

    /** ISA-88 procedural states; OFFLINE is said by the broker in the bench's place. */
    public enum State {
        IDLE,
        RUNNING,
        HOLDING,
        HELD,
        RESTARTING,
        STOPPING,
        STOPPED,
        ABORTING,
        ABORTED,
        COMPLETE,
        OFFLINE
    }

    public record LoadedTicket(int position, UUID ticketId, UUID washId, String colony, Pass pass) {
        public LoadedTicket {
            Check.range("position", position, 1, Position.MOST);
            Check.present("ticketId", ticketId);
            Check.optionalText("colony", colony);
            Check.present("pass", pass);
        }
    }

    /**
     * @param kind {@code safety} or {@code process}
     * @param firstCause true for the one that tripped first
     */
    public record TrippedInterlock(
            String tag, String kind, String reason, String remedy, boolean firstCause) {
        public TrippedInterlock {
            Check.text("tag", tag);
            Check.text("kind", kind);
            Check.text("reason", reason);
            Check.text("remedy", remedy);
        }
    }

    /** Proof test of emergency stop, lid and one-shot: whether it is due, and why. */
    public record ProofTest(boolean due, String why, Instant lastAt, long cyclesSince) {
        public ProofTest {
            Check.optionalText("why", why);
            Check.atLeast("cyclesSince", cyclesSince, 0);
        }
    }

    /** {@code depth} counts rows without a receipt. */
    public record OutboxState(UUID outboxId, long depth, long lastSequence) {
        public OutboxState {
            Check.present("outboxId", outboxId);
            Check.atLeast("depth", depth, 0);
            Check.atLeast("lastSequence", lastSequence, 0);
        }
    }

    public BenchState {
        SchemaVersion.check(schema, "state");
        Check.benchId(benchId);
        Check.optionalText("controllerVersion", controllerVersion);
        Check.present("state", state);
        tickets = Check.list("tickets", tickets, Position.MOST);
        interlocks = Check.list("interlocks", interlocks, 100);
        startRefused = Check.texts("startRefused", startRefused, 100);
    }

    /** The last will of a bench. */
    public static BenchState offline(String benchId, boolean simulated) {
        return new BenchState(
                SCHEMA,
                benchId,
                null,
                simulated,
                null,
                null,
                null,
                State.OFFLINE,
                null,
                null,
                List.of(),
                List.of(),
                List.of(),
                false,
                null,
                null);
    }
}
