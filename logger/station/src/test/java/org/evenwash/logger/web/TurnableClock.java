package org.evenwash.logger.web;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;

/** A clock that stands until it is turned on. */
final class TurnableClock extends Clock {
    private volatile Instant now = Scene.NOON;

    void turn(Duration length) {
        now = now.plus(length);
    }

    @Override
    public Instant instant() {
        return now;
    }

    @Override
    public ZoneId getZone() {
        return ZoneOffset.UTC;
    }

    @Override
    public Clock withZone(ZoneId zone) {
        throw new UnsupportedOperationException("instants only");
    }
}
