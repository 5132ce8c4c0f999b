package org.evenwash.logger.cli;

/** Starts the logger.cli. */
public final class Main {
    private Main() {}

    public static void main(String[] args) {}
}
