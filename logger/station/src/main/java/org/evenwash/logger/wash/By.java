package org.evenwash.logger.wash;

import java.util.UUID;

/**
 * Who asks for a change, and the key under which it is done only once however often it is sent.
 *
 * @param operatorId null when no operator is known
 * @param key made by the sender for this one change, null when it will not be repeated
 */
public record By(UUID operatorId, String key) {
    private static final int LONGEST_KEY = 200;

    public By {
        if (key != null && (key.isBlank() || key.length() > LONGEST_KEY)) {
            throw Refused.invalid(
                    "idempotency key",
                    "has " + key.length() + " characters, expected 1 to " + LONGEST_KEY,
                    "send a UUID");
        }
    }

    public static By nobody() {
        return new By(null, null);
    }

    public static By operator(UUID operatorId) {
        return new By(operatorId, null);
    }

    public By once(String idempotencyKey) {
        return new By(operatorId, idempotencyKey);
    }
}
