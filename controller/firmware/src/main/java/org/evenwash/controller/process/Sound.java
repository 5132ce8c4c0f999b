package org.evenwash.controller.process;

/** What the sounder says, each with a rhythm of its own; one character is 100 ms. */
public enum Sound {
    SILENT("."),
    /** Three long notes at the end of a cycle. */
    FINISHED("#####..#####..#####"),
    /** Two short notes every ten seconds: a jar waits, or a hold does. */
    NEEDS_YOU("#.#" + ".".repeat(97)),
    /** Without pause until it is silenced. */
    FAULT("##.");

    private final String rhythm;

    Sound(String rhythm) {
        this.rhythm = rhythm;
    }

    boolean on(long elapsed_ns) {
        return Rhythm.on(rhythm, elapsed_ns);
    }

    long length_ns() {
        return rhythm.length() * 100_000_000L;
    }
}
