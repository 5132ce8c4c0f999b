package org.evenwash.controller;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The class archive that an installation makes: the jar's classes come from it, and a wrong one does no harm. */
class ArchiveIT {
    private static final Path JAR = Path.of("target/evenwash-controller.jar").toAbsolutePath();

    @TempDir Path folder;

    @Test
    void archive_isWholeAndUsed_andAStrangeOneIsPassedOver() throws Exception {
        Path archive = folder.resolve("program.jsa");
        assertThat(java(List.of(), "archive", archive.toString())).contains("2 of 2");
        assertThat(folder.toFile().list())
                .as("nothing else is left")
                .containsExactly("program.jsa");

        String with =
                java(List.of("-XX:SharedArchiveFile=" + archive, "-Xlog:class+load"), "--version");
        assertThat(with).contains("evenwash-controller ");
        assertThat(with.lines())
                .anyMatch(
                        line ->
                                line.contains("org.evenwash.controller.Main ")
                                        && line.contains("shared objects file"));

        Path strange = Files.writeString(folder.resolve("strange.jsa"), "not an archive");
        assertThat(java(List.of("-XX:SharedArchiveFile=" + strange), "--version"))
                .contains("evenwash-controller ");
        assertThat(java(List.of("-XX:SharedArchiveFile=" + folder.resolve("none")), "--version"))
                .contains("evenwash-controller ");
    }

    /** What it said, when it ended well. */
    private static String java(List<String> flags, String... arguments) throws Exception {
        List<String> command = new ArrayList<>();
        command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
        command.addAll(ShippedFlags.read());
        command.addAll(flags);
        command.addAll(List.of("-jar", JAR.toString()));
        command.addAll(List.of(arguments));
        Path said = Files.createTempFile("archive", ".out");
        Process process =
                new ProcessBuilder(command)
                        .redirectErrorStream(true)
                        .redirectOutput(said.toFile())
                        .start();
        try {
            assertThat(process.waitFor(3, TimeUnit.MINUTES)).isTrue();
            String text = Files.readString(said);
            assertThat(process.exitValue()).as(text).isZero();
            return text;
        } finally {
            process.destroyForcibly();
            Files.delete(said);
        }
    }
}
