package org.evenwash.record;

import com.fasterxml.jackson.annotation.JsonProperty;
import java.time.Instant;
import java.util.UUID;

/**
 * All that may be asked of a bench from afar: hold or stop the cycle named, or offer kept records
 * again. There is no start. Hold and stop are sent with a message expiry of {@link #EXPIRY_S}; a retained
 * command, or one for another cycle, is ignored.
 *
 * @param cycleId with hold and stop
 * @param resend with resend
 */
public record BenchCommand(
        String schema,
        UUID commandId,
        String benchId,
        Instant issuedAt,
        Action action,
        UUID cycleId,
        Resend resend)
        implements Message {

    public static final String SCHEMA = "command/1.0";

    /** MQTT message expiry, s: a hold or stop delayed longer than this is worth nothing. */
    public static final long EXPIRY_S = 5;

    /** MQTT message expiry, s, 0 for none: a request for records waits for a bench that is away. */
    public long expiry_s() {
        return action == Action.RESEND ? 0 : EXPIRY_S;
    }

    public enum Action {
        @JsonProperty("hold")
        HOLD,
        @JsonProperty("stop")
        STOP,
        @JsonProperty("resend")
        RESEND
    }

    /** Sequence numbers {@code from} to {@code to}, both included. */
    public record Resend(UUID outboxId, long from, long to) {
        public Resend {
            Check.present("outboxId", outboxId);
            Check.atLeast("from", from, 1);
            Check.atLeast("to", to, from);
        }
    }

    public BenchCommand {
        SchemaVersion.check(schema, "command");
        Check.present("commandId", commandId);
        Check.benchId(benchId);
        Check.present("issuedAt", issuedAt);
        Check.present("action", action);
        if (action == Action.RESEND) {
            Check.present("resend", resend);
        } else {
            Check.present("cycleId", cycleId);
        }
    }
}
