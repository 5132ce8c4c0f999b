package org.evenwash.controller;

import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;

/** What the log says while this is open; it still goes to the error output as well. */
public final class Told implements AutoCloseable {
    private final PrintStream before = System.err;
    private final ByteArrayOutputStream said = new ByteArrayOutputStream();

    public Told() {
        System.setErr(
                new PrintStream(said, true, StandardCharsets.UTF_8) {
                    @Override
                    public void println(String line) {
                        super.println(line);
                        before.println(line);
                    }
                });
    }

    public String text() {
        return said.toString(StandardCharsets.UTF_8);
    }

    @Override
    public void close() {
        System.setErr(before);
    }
}
