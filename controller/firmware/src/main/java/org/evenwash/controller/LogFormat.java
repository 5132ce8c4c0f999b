package org.evenwash.controller;

import org.slf4j.LoggerFactory;

/**
 * What the log looks like. Lines for people come from a library of 15 KB; JSON needs a larger one, which costs 5 MB of memory
 * as soon as it is used, so it is taken only when asked for. To be chosen before anything is logged.
 */
final class LogFormat {
    private static final String PROVIDER = LoggerFactory.PROVIDER_PROPERTY_KEY;

    private LogFormat() {}

    /** One line a message, for people; the default. */
    static void text() {
        provide("org.slf4j.simple.SimpleServiceProvider");
    }

    /** One JSON object a line, for programs that collect logs. */
    static void json() {
        System.setProperty("logback.configurationFile", "org/evenwash/controller/json-log.xml");
        provide("ch.qos.logback.classic.spi.LogbackServiceProvider");
    }

    private static void provide(String provider) {
        System.setProperty(PROVIDER, provider);
        // Else it tells, as a line of its own, that it was chosen.
        System.setProperty("slf4j.internal.verbosity", "WARN");
    }
}
