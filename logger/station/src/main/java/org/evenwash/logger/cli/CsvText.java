package org.evenwash.logger.cli;

import java.io.IOException;
import java.io.InputStream;
import java.nio.ByteBuffer;
import java.nio.CharBuffer;
import java.nio.charset.CoderResult;
import java.nio.charset.CodingErrorAction;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;

/** The text of a CSV file: bounded, UTF-8, and refused with advice where it is something else. */
final class CsvText {
    /** "-" for standard input. */
    static final String STANDARD_INPUT = "-";

    /** A wash is some 50 bytes; this is more washes than anybody counts in a lifetime. */
    static final int MOST_BYTES = 20 * 1024 * 1024;

    private CsvText() {}

    static String nameOf(String file) {
        return file.equals(STANDARD_INPUT) ? "standard input" : file;
    }

    static String read(String file) {
        try (InputStream stream =
                file.equals(STANDARD_INPUT) ? System.in : Files.newInputStream(Path.of(file))) {
            return decoded(nameOf(file), stream.readNBytes(MOST_BYTES + 1));
        } catch (NoSuchFileException absent) {
            throw new BadInput(
                    "There is no file "
                            + file
                            + " here. Check the name, or give - to read standard input.",
                    absent);
        } catch (IOException unreadable) {
            throw new BadInput(
                    "The file " + file + " cannot be read: " + unreadable.getMessage(), unreadable);
        }
    }

    private static String decoded(String name, byte[] bytes) {
        if (bytes.length > MOST_BYTES) {
            throw new BadInput(
                    name
                            + " is larger than "
                            + MOST_BYTES / (1024 * 1024)
                            + " MiB: split it, or drop the columns that are not needed.");
        }
        refuseOtherFormats(name, bytes);
        int start = starts(bytes, 0xEF, 0xBB, 0xBF) ? 3 : 0;
        ByteBuffer rest = ByteBuffer.wrap(bytes, start, bytes.length - start);
        CharBuffer text = CharBuffer.allocate(bytes.length - start + 1);
        CoderResult end =
                StandardCharsets.UTF_8
                        .newDecoder()
                        .onMalformedInput(CodingErrorAction.REPORT)
                        .onUnmappableCharacter(CodingErrorAction.REPORT)
                        .decode(rest, text, true);
        if (end.isError()) {
            throw new BadInput(
                    name
                            + ", line "
                            + lineOf(bytes, rest.position())
                            + ": a letter that is not UTF-8. Save the file as \"CSV UTF-8\".");
        }
        return text.flip().toString();
    }

    private static void refuseOtherFormats(String name, byte[] bytes) {
        if (starts(bytes, 'P', 'K', 3, 4)) {
            throw new BadInput(
                    name
                            + " is a spreadsheet or an archive, not CSV: export the sheet as CSV UTF-8.");
        }
        if (starts(bytes, 0xFF, 0xFE) || starts(bytes, 0xFE, 0xFF)) {
            throw new BadInput(name + " is UTF-16 text: save it as \"CSV UTF-8\".");
        }
        for (int i = 0; i < bytes.length; i++) {
            if (bytes[i] == 0) {
                throw new BadInput(
                        name
                                + ", line "
                                + lineOf(bytes, i)
                                + ": holds a zero byte, so it is not a CSV text file.");
            }
        }
    }

    private static boolean starts(byte[] bytes, int... with) {
        if (bytes.length < with.length) {
            return false;
        }
        for (int i = 0; i < with.length; i++) {
            if ((bytes[i] & 0xFF) != with[i]) {
                return false;
            }
        }
        return true;
    }

    private static int lineOf(byte[] bytes, int position) {
        int line = 1;
        for (int i = 0; i < position; i++) {
            line += bytes[i] == '\n' ? 1 : 0;
        }
        return line;
    }
}
