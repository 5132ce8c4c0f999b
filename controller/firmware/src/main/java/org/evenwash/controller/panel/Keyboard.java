package org.evenwash.controller.panel;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/** The terminal that this program was started in, as Linux sees it. */
public final class Keyboard implements AutoCloseable {
    private static final Path INPUT = Path.of("/proc/self/fd/0");
    private static final Path OUTPUT = Path.of("/proc/self/fd/1");
    private static final List<String> BY_KEY = List.of("stty", "-icanon", "-echo", "min", "0");
    private static final List<String> AS_USUAL = List.of("stty", "icanon", "echo");

    private boolean byKey;

    /** A person sits there: standard input and output are both a terminal. */
    public static boolean isThere() {
        return target(INPUT).matches("/dev/(tty|pts).*")
                && target(OUTPUT).matches("/dev/(tty|pts).*");
    }

    /** It is plugged into this computer, or a serial line to it; a pts may be anywhere. */
    public static boolean isPluggedIn() {
        return target(INPUT).matches("/dev/tty[0-9A-Z].*");
    }

    private static String target(Path link) {
        try {
            return Files.readSymbolicLink(link).toString();
        } catch (IOException | UnsupportedOperationException e) {
            return "";
        }
    }

    /** Gives each key as it is pressed, without Enter, until closed. */
    public void open() throws InterruptedException {
        byKey = stty(BY_KEY);
    }

    @Override
    public void close() {
        if (byKey) {
            try {
                byKey = !stty(AS_USUAL);
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
            }
        }
    }

    /** False where there is no such program: keys then need Enter, and all else works. */
    private static boolean stty(List<String> command) throws InterruptedException {
        try {
            return new ProcessBuilder(command).inheritIO().start().waitFor() == 0;
        } catch (IOException e) {
            return false;
        }
    }
}
