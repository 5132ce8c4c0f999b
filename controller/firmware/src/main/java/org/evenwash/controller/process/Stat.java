package org.evenwash.controller.process;

/** Least, mean and greatest of a row of readings; missing readings are not counted. */
public record Stat(double min, double max, double sum, long count) {
    public static final Stat EMPTY = new Stat(Double.NaN, Double.NaN, 0, 0);

    Stat add(double value) {
        if (Double.isNaN(value)) {
            return this;
        }
        return count == 0
                ? new Stat(value, value, value, 1)
                : new Stat(Math.min(min, value), Math.max(max, value), sum + value, count + 1);
    }

    /** NaN when nothing was read. */
    public double mean() {
        return count == 0 ? Double.NaN : sum / count;
    }
}
