package org.evenwash.logger.web;

import org.evenwash.logger.Station;
import org.evenwash.logger.store.Database;

/** Whether the logger does its work now. */
@FunctionalInterface
interface Health {
    boolean up();

    /** The database answers and the broker is reached. */
    static Health of(Station station) {
        Health database = of(station.database());
        return () -> station.isConnected() && database.up();
    }

    /** The database answers. */
    static Health of(Database database) {
        return () -> {
            try {
                return database.read(h -> h.createQuery("SELECT 1").mapTo(Integer.class).one())
                        == 1;
            } catch (RuntimeException e) {
                // Whatever it is, it is told by what fails next; here it only counts as down.
                return false;
            }
        };
    }
}
