package org.evenwash.controller.port;

import java.util.List;
import org.evenwash.record.Topics;

/** Messages that the logger has not confirmed, as the publisher sees them. */
public interface Unsent {
    /**
     * @param sequence rises from message to message
     * @param payload as it was stored; not to be changed
     */
    @SuppressWarnings("ArrayRecordComponent") // Handed on once, never compared.
    record Letter(long sequence, Topics.Kind kind, byte[] payload) {}

    /** The oldest after {@code sequence}, in order; may wait for the storage. */
    List<Letter> after(long sequence, int most);
}
