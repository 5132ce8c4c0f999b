package org.evenwash.logger.web;

import java.nio.file.Path;
import java.time.Clock;
import java.util.List;
import java.util.function.LongSupplier;
import org.evenwash.logger.Station;
import org.evenwash.logger.secret.PersonPassword;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.tls.Identity;

/**
 * What the web server needs beside the workplace.
 *
 * @param committed messages taken in since the start
 * @param disk a folder on the disk that must not fill up; null if unknown
 * @param certificates of other servers of this station, to be reminded of too
 */
record Surroundings(
        Doors doors,
        Clock clock,
        Health health,
        LongSupplier committed,
        Path disk,
        List<Identity> certificates) {

    static Surroundings of(Station station) {
        Clock clock = Clock.systemUTC();
        return new Surroundings(
                new Doors(station.database(), clock, new PersonPassword()),
                clock,
                Health.of(station),
                station::committed,
                station.folder(),
                station.certificates());
    }

    /** Without a station around it: nothing is taken in. */
    static Surroundings of(Database database, Clock clock, PersonPassword passwords) {
        return new Surroundings(
                new Doors(database, clock, passwords),
                clock,
                Health.of(database),
                () -> 0,
                null,
                List.of());
    }
}
