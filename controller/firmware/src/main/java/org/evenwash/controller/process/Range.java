package org.evenwash.controller.process;

/** What a number may be, both ends included. */
public record Range(double least, double most) {

    /** NaN never lies within. */
    public boolean holds(double value) {
        return value >= least && value <= most;
    }

    /** The same range in units of so much each. */
    public Range per(double unit) {
        return new Range(least / unit, most / unit);
    }

    /** As people read it: {@code 1 to 8}, {@code 0.1 to 12}. */
    @Override
    public String toString() {
        return plain(least) + " to " + plain(most);
    }

    static String plain(double value) {
        return value == Math.rint(value) ? Long.toString((long) value) : Double.toString(value);
    }
}
