package org.evenwash.logger.web;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicReference;
import org.evenwash.logger.tls.Identity;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Reminds of certificates that end soon: on every page, and in the log once a day. */
final class Renewal {
    private static final Logger LOG = LoggerFactory.getLogger(Renewal.class);
    private static final Duration LOG_EVERY = Duration.ofDays(1);

    private final List<Identity> identities;
    private final Clock clock;
    private final AtomicReference<Instant> logged = new AtomicReference<>(Instant.MIN);

    Renewal(List<Identity> identities, Clock clock) {
        this.identities = List.copyOf(identities);
        this.clock = clock;
    }

    List<Identity> identities() {
        return identities;
    }

    /** When the first certificate ends, if that is within {@link Identity#REMIND}. */
    Optional<Instant> due() {
        Instant now = clock.instant();
        Optional<Identity> first =
                identities.stream()
                        .filter(one -> one.endsSoon(now))
                        .min(Comparator.comparing(Identity::until));
        first.ifPresent(one -> log(one, now));
        return first.map(Identity::until);
    }

    private void log(Identity identity, Instant now) {
        Instant before = logged.get();
        boolean time = before.equals(Instant.MIN) || before.plus(LOG_EVERY).isBefore(now);
        if (time && logged.compareAndSet(before, now)) {
            LOG.warn(
                    "the certificate {} ends on {}; renew it with 'evenwash-logger ca renew' or where it"
                            + " came from, and start the logger again",
                    identity.file(),
                    identity.until());
        }
    }
}
