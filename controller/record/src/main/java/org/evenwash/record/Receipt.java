package org.evenwash.record;

import com.fasterxml.jackson.annotation.JsonProperty;
import java.util.UUID;

/**
 * Sent by the logger after its database commit: any of the three results releases the outbox row,
 * if the hash is that of the payload which the row holds.
 *
 * @param messageId the {@code cycleId} or {@code eventId}
 * @param sha256 of the payload's bytes
 * @param reason why it was set aside, else null
 */
public record Receipt(String schema, UUID messageId, String sha256, Result result, String reason)
        implements Message {

    public static final String SCHEMA = "receipt/1.0";

    public enum Result {
        @JsonProperty("stored")
        STORED,
        @JsonProperty("duplicate")
        DUPLICATE,
        @JsonProperty("set-aside")
        SET_ASIDE
    }

    public Receipt {
        SchemaVersion.check(schema, "receipt");
        Check.present("messageId", messageId);
        Check.sha256("sha256", sha256);
        Check.present("result", result);
        Check.optionalText("reason", reason);
    }
}
