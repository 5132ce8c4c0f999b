package org.evenwash.logger;

import java.io.ByteArrayOutputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.zip.CRC32;
import java.util.zip.DeflaterOutputStream;

/** Black pictures of any size, written row by row: a small file that unpacks to much. */
public final class BlackPng {
    private BlackPng() {}

    public static byte[] of(int width, int height) {
        ByteArrayOutputStream file = new ByteArrayOutputStream();
        try (DataOutputStream out = new DataOutputStream(file)) {
            out.write(new byte[] {(byte) 0x89, 'P', 'N', 'G', 0x0D, 0x0A, 0x1A, 0x0A});
            ByteArrayOutputStream head = new ByteArrayOutputStream();
            DataOutputStream fields = new DataOutputStream(head);
            fields.writeInt(width);
            fields.writeInt(height);
            // 8 bits each of red, green and blue, not interlaced.
            fields.write(new byte[] {8, 2, 0, 0, 0});
            chunk(out, "IHDR", head.toByteArray());
            ByteArrayOutputStream packed = new ByteArrayOutputStream();
            try (DeflaterOutputStream rows = new DeflaterOutputStream(packed)) {
                byte[] row = new byte[1 + 3 * width];
                for (int y = 0; y < height; y++) {
                    rows.write(row);
                }
            }
            chunk(out, "IDAT", packed.toByteArray());
            chunk(out, "IEND", new byte[0]);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return file.toByteArray();
    }

    private static void chunk(DataOutputStream out, String type, byte[] content)
            throws IOException {
        byte[] name = type.getBytes(StandardCharsets.US_ASCII);
        CRC32 sum = new CRC32();
        sum.update(name);
        sum.update(content);
        out.writeInt(content.length);
        out.write(name);
        out.write(content);
        out.writeInt((int) sum.getValue());
    }
}
