package org.evenwash.demo;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.RandomAccessFile;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.sql.SQLException;
import java.util.Random;

/** A SQLite file of a program that is not running, to be damaged as a failing card does. */
final class DatabaseFile {
    private static final int PAGE_B = 4096;
    private static final int HEADER_B = 100;

    private final Path file;
    private byte[] damaged;

    DatabaseFile(Path file) {
        this.file = file;
        try {
            // All into the one file, or what the write-ahead file holds would hide the damage.
            Yard.column(file, "PRAGMA wal_checkpoint(TRUNCATE)");
        } catch (SQLException e) {
            throw new AssertionError("cannot tidy up " + file, e);
        }
    }

    void keepCopy() {
        copy(file, copy());
    }

    void putBack() {
        copy(copy(), file);
    }

    Path copy() {
        return file.resolveSibling(file.getFileName() + ".copy");
    }

    private static void copy(Path from, Path to) {
        try {
            Files.copy(from, to, StandardCopyOption.REPLACE_EXISTING);
        } catch (IOException e) {
            throw new UncheckedIOException("cannot copy " + from, e);
        }
    }

    /** The header, some page or the end is gone. */
    void damage(Random random) {
        try (RandomAccessFile bytes = new RandomAccessFile(file.toFile(), "rw")) {
            int pages = (int) (bytes.length() / PAGE_B);
            switch (random.nextInt(4)) {
                case 0 -> overwrite(bytes, random, 0, HEADER_B);
                case 1 -> bytes.setLength((long) PAGE_B * random.nextInt(pages) + 17);
                default -> overwrite(bytes, random, (long) PAGE_B * random.nextInt(pages), PAGE_B);
            }
            damaged = Files.readAllBytes(file);
        } catch (IOException e) {
            throw new UncheckedIOException("cannot damage " + file, e);
        }
    }

    private static void overwrite(RandomAccessFile bytes, Random random, long at, int size)
            throws IOException {
        byte[] garbage = new byte[size];
        random.nextBytes(garbage);
        bytes.seek(at);
        bytes.write(garbage);
    }

    void mustBeAsDamaged() {
        assertThat(file).as("refused, and not touched").hasBinaryContent(damaged);
    }
}
