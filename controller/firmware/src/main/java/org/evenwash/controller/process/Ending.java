package org.evenwash.controller.process;

/**
 * What took the machine out of RUNNING. The first cause is kept until it runs again or is reset: an
 * open lid also drops the motor supply, and the operator wants to hear of the lid.
 *
 * @param first tag of the interlock, {@link Machine#OPERATOR} or {@link Machine#REMOTE}; null
 * @param by what ended the cycle, when something did; null
 */
record Ending(String first, String by) {
    static final Ending NONE = new Ending(null, null);

    Ending next(State was, State is, String why) {
        if (is == was) {
            return this;
        }
        return switch (is) {
            case IDLE, RUNNING -> NONE;
            case HOLDING -> new Ending(first == null ? why : first, null);
            case STOPPING, ABORTING -> new Ending(first == null ? why : first, why);
            case COMPLETE, HELD, RESTARTING, STOPPED, ABORTED -> this;
        };
    }
}
