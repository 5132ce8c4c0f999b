package org.evenwash.controller.sim;

import org.evenwash.controller.process.Contact;

/**
 * The wired stop chain: emergency stop, lid and one-shot each drop a contactor that holds itself
 * and comes back only by its reset button. It needs no program.
 */
final class StopChain {
    private static final long DROP_OUT_NS = 20_000_000L;
    private static final long ONE_SHOT_NS = 200_000_000L;

    private boolean eStopPressed;
    private boolean welded;
    private boolean closed;
    private boolean rearmed;
    private boolean lastHeartbeat;
    private long lastEdge_ns;
    private long opening_ns = -1;

    void pressEStop(boolean pressed) {
        eStopPressed = pressed;
    }

    void weld(boolean stuck) {
        welded = stuck;
    }

    void rearm() {
        rearmed = true;
    }

    /** The supply goes away by itself: a blown fuse, a pulled plug. */
    void drop() {
        closed = false;
    }

    void advance(long uptime_ns, boolean heartbeat, boolean permitted, boolean lidClosed) {
        if (heartbeat != lastHeartbeat) {
            lastHeartbeat = heartbeat;
            lastEdge_ns = uptime_ns;
        }
        boolean fed = uptime_ns - lastEdge_ns < ONE_SHOT_NS;
        boolean healthy = !eStopPressed && lidClosed && permitted && fed;
        if (healthy) {
            opening_ns = -1;
            closed |= rearmed;
        } else if (closed) {
            opening_ns = opening_ns < 0 ? uptime_ns : opening_ns;
            closed = uptime_ns - opening_ns < DROP_OUT_NS;
        }
        rearmed = false;
    }

    boolean closed() {
        return closed || welded;
    }

    Contact eStop() {
        return eStopPressed ? Contact.OPEN : Contact.CLOSED;
    }

    Contact contactor() {
        return closed() ? Contact.CLOSED : Contact.OPEN;
    }
}
