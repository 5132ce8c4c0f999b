package org.evenwash.controller.pi4j;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.evenwash.controller.process.Interlock;
import org.evenwash.controller.process.Interlocks;
import org.junit.jupiter.api.Test;

/**
 * The hardware notes say what the code does: their tables are printed from it, and every measure that software takes names
 * an interlock that is there and a test that is there. {@code -Dnotes.write=true} writes the tables anew.
 */
class HardwareNotesTest {
    private static final Path NOTES = Path.of("../../hardware-notes");
    private static final boolean WRITE = Boolean.getBoolean("notes.write");

    private static void compare(String file, String mark, String expected) throws IOException {
        Path path = NOTES.resolve(file);
        String text = Files.readString(path);
        String begin = "<!-- " + mark + ":begin -->\n";
        String end = "<!-- " + mark + ":end -->";
        assertThat(text).as(file).contains(begin, end);
        int from = text.indexOf(begin) + begin.length();
        int to = text.indexOf(end);
        if (WRITE) {
            Files.writeString(path, text.substring(0, from) + expected + text.substring(to));
            return;
        }
        assertThat(text.substring(from, to))
                .as("%s differs from the code; write it anew with -Dnotes.write=true", file)
                .isEqualTo(expected);
    }

    @Test
    void pinMap_isTheOneInTheCode() throws IOException {
        compare("pin-map.md", "pins", PinMap.DEFAULT.markdown());
    }

    @Test
    void interlockTable_isTheOneInTheCode() throws IOException {
        compare("hazards.md", "interlocks", Interlocks.markdown());
        compare("../DEVELOPERS.md", "interlocks", Interlocks.markdown());
    }

    @Test
    void everyInterlockThatTheNotesName_isInTheTable() throws IOException {
        Set<String> tags =
                Interlocks.TABLE.stream().map(Interlock::tag).collect(Collectors.toSet());
        Set<String> named = named("hazards.md", "`([A-Z][A-Z0-9]*(?:-[A-Z0-9]+)+)`");
        assertThat(named).isNotEmpty().isSubsetOf(tags);
    }

    @Test
    void everyTestThatTheNotesName_isThere() throws IOException {
        Set<String> named = named("hazards.md", "`([A-Z][A-Za-z0-9]+Test)`");
        named.addAll(named("proof-tests.md", "`([A-Z][A-Za-z0-9]+Test)`"));
        try (Stream<Path> sources = Files.walk(Path.of("src/test/java"))) {
            Set<String> there =
                    sources.map(path -> path.getFileName().toString().replace(".java", ""))
                            .collect(Collectors.toSet());
            assertThat(named).isNotEmpty().isSubsetOf(there);
        }
    }

    @Test
    void everyFileThatTheIndexNames_isThere() throws IOException {
        Set<String> named = named("README.md", "\\]\\(([^)#]+)\\)");
        assertThat(named)
                .isNotEmpty()
                .allSatisfy(file -> assertThat(NOTES.resolve(file)).as(file).exists());
    }

    @Test
    void everyPinInTheWiringPicture_isTheOneInTheMap() throws IOException {
        String picture = Files.readString(NOTES.resolve("wiring.svg"));
        for (PinMap.Pin pin : PinMap.DEFAULT.pins()) {
            assertThat(picture)
                    .as("wiring.svg shows " + pin.signal().title())
                    .contains(
                            "data-signal=\"" + pin.signal().name() + "\">GPIO" + pin.gpio() + "<");
        }
    }

    /** A card that was full for an hour must not leave a bench that stays off until somebody comes. */
    @Test
    void service_isTriedAgain_forAsLongAsItTakes() throws IOException {
        assertThat(NOTES.resolve("service/evenwash-controller.service"))
                .content()
                .contains("\nRestart=on-failure\n", "\nStartLimitIntervalSec=0\n")
                .doesNotContain("StartLimitBurst", "RestartPreventExitStatus");
    }

    private static Set<String> named(String file, String pattern) throws IOException {
        Set<String> found = new TreeSet<>();
        Matcher matcher = Pattern.compile(pattern).matcher(Files.readString(NOTES.resolve(file)));
        while (matcher.find()) {
            found.add(matcher.group(1));
        }
        return found;
    }
}
