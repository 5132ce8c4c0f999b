package org.evenwash.controller.process;

/**
 * What the lamps say. Colours as in IEC 60073 (red: emergency or hazard, yellow: abnormal, green:
 * normal, blue: an action is asked for, white: neutral), and for each meaning a rhythm of its own,
 * so that colour never has to be told apart. One character is 100 ms of a two-second round.
 */
public enum Meaning {
    EMERGENCY(Colour.RED, "#.#.#.#.#.#.#.#.#.#.", "aborted"),
    HAZARD(Colour.RED, "###.###.###.####....", "interlock tripped"),
    STOPPED(Colour.YELLOW, "##########..........", "stopped"),
    HELD(Colour.YELLOW, "##..##..............", "held"),
    SLOWING(Colour.YELLOW, "#####.....#####.....", "slowing down"),
    AGITATING(Colour.GREEN, "####################", "agitating"),
    RESTING(Colour.GREEN, "##################..", "resting"),
    WAITING(Colour.GREEN, "########.#..........", "waiting for the outbox"),
    COMPLETE(Colour.GREEN, "##..##..##..........", "complete"),
    ACTION(Colour.BLUE, "#########.#########.", "the bench needs you"),
    READY(Colour.WHITE, "#...................", "ready");

    /** Lamp colours. */
    public enum Colour {
        RED,
        YELLOW,
        GREEN,
        BLUE,
        WHITE
    }

    private final Colour colour;
    private final String rhythm;
    private final String words;

    Meaning(Colour colour, String rhythm, String words) {
        this.colour = colour;
        this.rhythm = rhythm;
        this.words = words;
    }

    public Colour colour() {
        return colour;
    }

    /** Twenty characters, {@code #} lit and {@code .} dark, 100 ms each. */
    public String rhythm() {
        return rhythm;
    }

    /** The meaning in words, to stand beside the lamp. */
    public String words() {
        return words;
    }

    boolean lit(long uptime_ns) {
        return Rhythm.on(rhythm, uptime_ns);
    }
}
