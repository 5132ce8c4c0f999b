package org.evenwash.demo;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;

/** How a program says that it will not start. */
final class Refusal {
    private Refusal() {}

    /**
     * @param named must stand in what it said; null for no such demand
     */
    static void plain(Program program, Path named) {
        int exit = program.awaitExit();
        String said = program.all();
        assertThat(exit).as(said).isNotZero();
        assertThat(said).as("a sentence, not a stack trace").doesNotContain("\tat ", "Exception");
        if (named != null) {
            assertThat(said).contains(named.toString());
        }
    }
}
