package org.evenwash.logger.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;

class ManualTest {
    /** The manual page is written by hand; a command that it forgets, or keeps too long, is found. */
    @Test
    void everyCommandStandsInTheManual() throws IOException {
        List<String> inManual =
                Files.readAllLines(Path.of("src/deb/evenwash-logger.1")).stream()
                        .filter(line -> line.startsWith(".It Cm "))
                        .map(line -> line.substring(".It Cm ".length()))
                        .toList();
        assertThat(inManual)
                .containsExactlyInAnyOrderElementsOf(Main.commandLine().getSubcommands().keySet());
    }
}
