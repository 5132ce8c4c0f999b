package org.evenwash.demo;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;

/** How a program says that it will not start. */
final class Refusal {
    private Refusal() {}

    /**
     * @param program that ended, and whose words were read to their end
     * @param named must stand in what it said; null for no such demand
     * @param remedies what a person can do about it; one of them is told
     */
    static void plain(Program program, Path named, String... remedies) {
        int exit = program.awaitExit();
        String said = program.all();
        assertThat(exit).as(said).isNotZero();
        assertThat(said).as("a sentence, not a stack trace").doesNotContain("\tat ", "Exception");
        assertThat(said).as("what to do").containsAnyOf(remedies);
        assertThat(program.lines()).as("one line").hasSize(1);
        if (named != null) {
            assertThat(said).contains(named.toString());
        }
    }
}
