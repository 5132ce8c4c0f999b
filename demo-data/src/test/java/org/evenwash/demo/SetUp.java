package org.evenwash.demo;

/** Which broker stands between bench and logger. */
enum SetUp {
    /** The logger's own. */
    EMBEDDED(""),
    /** As Debian ships it: what is under way is written every half hour and at a proper end. */
    MOSQUITTO_AS_SHIPPED("persistence true\n"),
    MOSQUITTO_AS_RECOMMENDED(
            """
            persistence true
            autosave_interval 1
            autosave_on_changes true
            max_queued_messages 0
            max_inflight_messages 1000
            """);

    private final String persistence;

    SetUp(String persistence) {
        this.persistence = persistence;
    }

    boolean mosquitto() {
        return this != EMBEDDED;
    }

    /** Lines of Mosquitto's settings. */
    String persistence() {
        return persistence;
    }
}
