package org.evenwash.logger.report;

import java.io.IOException;
import java.net.URI;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.apache.fontbox.ttf.TTFParser;
import org.apache.fontbox.ttf.TrueTypeFont;
import org.apache.fontbox.util.autodetect.FontFileFinder;
import org.apache.pdfbox.io.RandomAccessReadBufferedFile;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** TrueType fonts of this computer, for letters that our own fonts lack. Looked through only then. */
final class SystemFonts {
    private static final Logger LOG = LoggerFactory.getLogger(SystemFonts.class);

    /** Letters remembered; a logger meets the names of its own colonies again and again. */
    private static final int MOST_LETTERS = 2_000;

    private static final Map<Integer, Optional<Path>> KNOWN = new HashMap<>();
    private static List<Path> files;

    private SystemFonts() {}

    /** A font that has this letter; the first by its file's name, so that it is always the same. */
    static synchronized Optional<Path> with(int letter) {
        Optional<Path> known = KNOWN.get(letter);
        if (known == null) {
            known = find(letter);
            if (KNOWN.size() < MOST_LETTERS) {
                KNOWN.put(letter, known);
            }
        }
        return known;
    }

    private static Optional<Path> find(int letter) {
        for (Path file : files()) {
            if (has(file, letter)) {
                return Optional.of(file);
            }
        }
        LOG.warn("no font of this computer has the letter U+{}", Integer.toHexString(letter));
        return Optional.empty();
    }

    private static List<Path> files() {
        if (files == null) {
            files =
                    new FontFileFinder()
                            .find().stream()
                                    .map(SystemFonts::path)
                                    .filter(SystemFonts::plainTrueType)
                                    .sorted()
                                    .toList();
        }
        return files;
    }

    private static Path path(URI uri) {
        return Path.of(uri);
    }

    /** Upright, of usual weight: others only by chance of their name come first. */
    private static boolean plainTrueType(Path file) {
        String name = file.getFileName().toString().toLowerCase(Locale.ROOT);
        return name.endsWith(".ttf") && !name.matches(".*(bold|italic|oblique|light|thin|mono).*");
    }

    private static boolean has(Path file, int letter) {
        try (TrueTypeFont font = new TTFParser().parse(new RandomAccessReadBufferedFile(file))) {
            return font.getUnicodeCmapLookup().getGlyphId(letter) != 0;
        } catch (IOException e) {
            LOG.warn("the font {} cannot be read: {}", file, e.getMessage());
            return false;
        }
    }
}
