package org.evenwash.logger.intake;

import java.nio.charset.StandardCharsets;
import java.util.Objects;
import org.evenwash.record.Messages;

/** Bytes of a message as they came; never changed, never compared. */
final class Payload {
    private final byte[] bytes;

    Payload(byte[] bytes) {
        this.bytes = Objects.requireNonNull(bytes, "bytes");
    }

    byte[] bytes() {
        return bytes;
    }

    int size_bytes() {
        return bytes.length;
    }

    /** Of a payload that was read before: then it is known to be UTF-8. */
    String text() {
        return new String(bytes, StandardCharsets.UTF_8);
    }

    String sha256() {
        return Messages.sha256(bytes);
    }
}
