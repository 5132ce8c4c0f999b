package org.evenwash.logger.intake;

import java.io.IOException;
import java.io.InputStream;

/**
 * Takes the place of the MQTT library's own counting stream in the program's jar: packaging renames that class to this one
 * wherever the library uses it. The library's reads byte by byte, which takes most of a millisecond for a record. The methods
 * are the library's; nothing else uses them.
 */
public final class CountedInput extends InputStream {
    private final InputStream input;
    private int counter;

    public CountedInput(InputStream input) {
        this.input = input;
    }

    @Override
    public int read() throws IOException {
        int next = input.read();
        counter += next < 0 ? 0 : 1;
        return next;
    }

    @Override
    public int read(byte[] to, int offset, int length) throws IOException {
        int taken = input.read(to, offset, length);
        counter += Math.max(0, taken);
        return taken;
    }

    /** Bytes read so far. */
    public int getCounter() {
        return counter;
    }

    public void resetCounter() {
        counter = 0;
    }
}
