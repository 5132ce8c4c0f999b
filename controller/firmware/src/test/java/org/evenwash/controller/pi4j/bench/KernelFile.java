package org.evenwash.controller.pi4j.bench;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;

/** One of the kernel's small files, kept open: it is looked at hundreds of times a second, and opening costs most. */
final class KernelFile implements AutoCloseable {
    private static final int LONGEST_TEXT = 32;

    private final Path path;
    private final FileChannel channel;
    private final ByteBuffer text = ByteBuffer.allocateDirect(LONGEST_TEXT);

    private KernelFile(Path path, FileChannel channel) {
        this.path = path;
        this.channel = channel;
    }

    static KernelFile open(Path path, StandardOpenOption how) {
        try {
            return new KernelFile(path, FileChannel.open(path, how));
        } catch (IOException e) {
            throw new UncheckedIOException("cannot open " + path, e);
        }
    }

    /** What stands in it now, as a number without sign; 0 when it is empty. */
    synchronized long number() {
        text.clear();
        try {
            channel.read(text, 0);
        } catch (IOException e) {
            throw new UncheckedIOException("cannot read " + path, e);
        }
        text.flip();
        long number = 0;
        while (text.hasRemaining()) {
            int digit = text.get() - '0';
            if (digit < 0 || digit > 9) {
                return number;
            }
            number = 10 * number + digit;
        }
        return number;
    }

    synchronized void write(String word) {
        text.clear();
        text.put(word.getBytes(StandardCharsets.US_ASCII)).flip();
        try {
            channel.write(text, 0);
        } catch (IOException e) {
            throw new UncheckedIOException("cannot write " + word + " to " + path, e);
        }
    }

    @Override
    public void close() {
        try {
            channel.close();
        } catch (IOException e) {
            throw new UncheckedIOException("cannot close " + path, e);
        }
    }
}
