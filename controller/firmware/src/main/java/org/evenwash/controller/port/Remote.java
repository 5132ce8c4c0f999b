package org.evenwash.controller.port;

import java.util.UUID;
import org.evenwash.controller.process.RemoteRequest;

/** Requests from afar. */
public interface Remote {
    /**
     * Takes the request waiting for this cycle. Requests that name another cycle or have expired
     * are dropped before they get here.
     *
     * @param cycleId the cycle under way; null when none is, and then nothing is asked
     */
    RemoteRequest take(UUID cycleId);
}
