package org.evenwash.controller.pi4j;

/**
 * The digital lines of one chip by number, electrical levels only. The real one is {@link GpioLines}; tests bring one that
 * is a table of levels.
 */
public interface Lines extends AutoCloseable {
    /**
     * Takes a line as an input that also reports its edges.
     *
     * @throws WiringException when the line is held by something else or does not exist
     */
    InputLine input(int gpio, Pull pull, String consumer);

    /**
     * Takes a line as an input that reports only the edge towards one level, one per pulse.
     *
     * @throws WiringException when the line is held by something else or does not exist
     */
    InputLine pulses(int gpio, Pull pull, Level towards, String consumer);

    /**
     * Takes a line as an output; it drives {@code initial} from the first moment.
     *
     * @throws WiringException when the line is held by something else or does not exist
     */
    OutputLine output(int gpio, Level initial, String consumer);

    /**
     * Looks at a free line for a moment with a pull of its own; a line that follows whatever pull it is given floats.
     *
     * @throws WiringException when the line is held by something else or does not exist
     */
    Level glance(int gpio, Pull pull);

    /** Gives all lines back. Which level an output keeps then is the chip's affair: hardware must not depend on it. */
    @Override
    void close();

    /** One input. */
    interface InputLine {
        /** The level now, read from the chip. */
        Level level();

        /**
         * Waits for an edge.
         *
         * @return the monotonic time of the edge in nanoseconds as the kernel stamped it, or {@link #NO_EDGE} after the limit
         */
        long awaitEdge(long limit_ns);

        /** What {@link #awaitEdge} returns when nothing happened. */
        long NO_EDGE = -1;
    }

    /** One output. */
    interface OutputLine {
        /** Drives the line. */
        void drive(Level level);

        /** The level now, read back from the chip and not remembered. */
        Level level();
    }
}
