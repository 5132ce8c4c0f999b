package org.evenwash.logger.transfer;

import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.Charset;
import java.nio.charset.CodingErrorAction;
import java.nio.charset.StandardCharsets;
import org.evenwash.logger.wash.Refused;

/**
 * In which letters a file is written, told from its bytes: by its mark (Unicode 15, §23.8), else UTF-16
 * where every other byte is zero, UTF-8 where it is valid as such, and Windows' Latin-1 as the rest.
 *
 * @param skip bytes of the mark at the start
 * @param word for people
 * @param sure false where the bytes would also be valid in other letters
 */
record TextCode(Charset charset, int skip, String word, boolean sure) {
    private static final Charset WINDOWS = Charset.forName("windows-1252");

    /** Enough to see a pattern. */
    private static final int LOOKED_AT = 4_096;

    /**
     * @throws Refused if the file is a spreadsheet, a document or no text at all
     */
    static TextCode of(byte[] bytes) {
        refuseOtherFormats(bytes);
        if (starts(bytes, 0xEF, 0xBB, 0xBF)) {
            return new TextCode(StandardCharsets.UTF_8, 3, "UTF-8", true);
        }
        if (starts(bytes, 0xFF, 0xFE)) {
            return new TextCode(StandardCharsets.UTF_16LE, 2, "UTF-16", true);
        }
        if (starts(bytes, 0xFE, 0xFF)) {
            return new TextCode(StandardCharsets.UTF_16BE, 2, "UTF-16", true);
        }
        int looked = Math.min(bytes.length, LOOKED_AT) & ~1;
        int even = zeros(bytes, 0, looked);
        int odd = zeros(bytes, 1, looked);
        if (odd > looked / 4 && even == 0) {
            return new TextCode(StandardCharsets.UTF_16LE, 0, "UTF-16", true);
        }
        if (even > looked / 4 && odd == 0) {
            return new TextCode(StandardCharsets.UTF_16BE, 0, "UTF-16", true);
        }
        refuseZeros(bytes);
        return valid(bytes)
                ? new TextCode(StandardCharsets.UTF_8, 0, "UTF-8", true)
                : new TextCode(WINDOWS, 0, "Latin-1", false);
    }

    private static int zeros(byte[] bytes, int from, int to) {
        int zeros = 0;
        for (int i = from; i < to; i += 2) {
            zeros += bytes[i] == 0 ? 1 : 0;
        }
        return zeros;
    }

    private static boolean valid(byte[] bytes) {
        try {
            StandardCharsets.UTF_8
                    .newDecoder()
                    .onMalformedInput(CodingErrorAction.REPORT)
                    .decode(ByteBuffer.wrap(bytes));
            return true;
        } catch (CharacterCodingException other) {
            return false;
        }
    }

    private static void refuseOtherFormats(byte[] bytes) {
        if (starts(bytes, 'P', 'K', 3, 4) || starts(bytes, 0xD0, 0xCF, 0x11, 0xE0)) {
            throw Refused.invalid(
                    "file", "is a spreadsheet or an archive", "export the sheet as CSV first");
        }
        if (starts(bytes, '%', 'P', 'D', 'F')) {
            throw Refused.invalid("file", "is a PDF document", "choose a CSV file");
        }
    }

    private static void refuseZeros(byte[] bytes) {
        int line = 1;
        for (byte one : bytes) {
            if (one == 0) {
                throw Refused.invalid(
                        "file", "holds a zero byte in line " + line, "choose a CSV text file");
            }
            line += one == '\n' ? 1 : 0;
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
}
