package org.evenwash.controller;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;

/** The Java flags of the service unit, so that what is measured is what is shipped. */
final class ShippedFlags {
    static final Path UNIT =
            Path.of("../../hardware-notes/service/evenwash-controller.service").toAbsolutePath();

    private static final Pattern FLAG = Pattern.compile("(?<=\\s)-X\\S+");

    private ShippedFlags() {}

    /** All but the class archive, which belongs to one installation. */
    static List<String> read() throws IOException {
        return FLAG.matcher(Files.readString(UNIT))
                .results()
                .map(MatchResult::group)
                .filter(flag -> !flag.startsWith("-XX:SharedArchiveFile"))
                .toList();
    }
}
