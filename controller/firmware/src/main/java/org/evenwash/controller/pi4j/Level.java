package org.evenwash.controller.pi4j;

/** The electrical level of one line, before any polarity: what a meter would show. */
public enum Level {
    LOW(0),
    HIGH(1);

    private final int value;

    Level(int value) {
        this.value = value;
    }

    static Level of(int value) {
        return value == 0 ? LOW : HIGH;
    }

    /** As the kernel writes it: 0 or 1. */
    int value() {
        return value;
    }

    /** The other level. */
    public Level inverted() {
        return this == LOW ? HIGH : LOW;
    }
}
