package org.evenwash.logger.web;

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
 * @param freeRoom_B what may still be written to the disk, asked for each page
 * @param certificates of other servers of this station, to be reminded of too
 */
record Surroundings(
        Doors doors,
        Clock clock,
        Health health,
        LongSupplier committed,
        LongSupplier freeRoom_B,
        List<Identity> certificates) {

    static Surroundings of(Station station) {
        Clock clock = Clock.systemUTC();
        return new Surroundings(
                new Doors(station.database(), clock, new PersonPassword()),
                clock,
                Health.of(station),
                station::committed,
                station::freeRoom_B,
                station.certificates());
    }

    /** Without a station around it: nothing is taken in. */
    static Surroundings of(
            Database database, Clock clock, PersonPassword passwords, LongSupplier freeRoom_B) {
        return new Surroundings(
                new Doors(database, clock, passwords),
                clock,
                Health.of(database),
                () -> 0,
                freeRoom_B,
                List.of());
    }
}
