package org.evenwash.controller;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;

/** The Java flags of the installed program's script, so that what is measured is what is shipped. */
final class ShippedFlags {
    private static final Path SCRIPT = Path.of("src/deb/evenwash-controller.sh");

    private static final Pattern FLAG = Pattern.compile("(?<=\\s)-X\\S+");

    private ShippedFlags() {}

    /** All but those of the class archive, which belongs to one installation, and of what it says about it. */
    static List<String> read() throws IOException {
        return FLAG.matcher(Files.readString(SCRIPT))
                .results()
                .map(MatchResult::group)
                .filter(flag -> !flag.matches("-XX:SharedArchiveFile.*|-Xshare.*|-Xlog.*"))
                .toList();
    }
}
