package org.evenwash.logger.web;

import org.evenwash.logger.StationTrouble;

/** Whether the pages may be served where they were asked to be. */
final class Exposure {
    private Exposure() {}

    /**
     * @throws StationTrouble if strangers could read without a password, or read a password
     */
    static void check(WebSettings settings, Doors doors) {
        if (!settings.reachable()) {
            return;
        }
        if (doors.nobodyHasAPassword()) {
            throw new StationTrouble(
                    "nobody has a password yet, so the pages stay on this machine; set the first one"
                            + " with 'evenwash-logger account first', or on the page Accounts of a"
                            + " logger started without --host",
                    null);
        }
        if (settings.plainBeyondLoopback()) {
            throw new StationTrouble(
                    "the pages would be served on "
                            + settings.host()
                            + " without TLS, and passwords would travel in clear; make certificates"
                            + " with 'evenwash-logger ca create', or give --certificate and --key",
                    null);
        }
    }
}
