package org.evenwash.logger.cli;

import java.io.Console;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;

/** Whether a person is watching, and in which letters. */
final class Terminal {
    private Terminal() {}

    /** True if both standard input and output are a terminal. */
    // Up to Java 21 there is no console without a terminal; from 22 on it has to be asked.
    @SuppressWarnings("SystemConsoleNull")
    static boolean attached() {
        Console console = System.console();
        if (console == null) {
            return false;
        }
        try {
            return (boolean) Console.class.getMethod("isTerminal").invoke(console);
        } catch (NoSuchMethodException before22) {
            return true;
        } catch (ReflectiveOperationException unknown) {
            return false;
        }
    }

    /** A terminal's own; UTF-8 into files and pipes, and where Java knows no better than ASCII. */
    static Charset charset() {
        Charset own = attached() ? System.console().charset() : StandardCharsets.UTF_8;
        return own.equals(StandardCharsets.US_ASCII) ? StandardCharsets.UTF_8 : own;
    }
}
