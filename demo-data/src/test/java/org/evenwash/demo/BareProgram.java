package org.evenwash.demo;

import java.io.IOException;

/** The least that a Java program can be: says that it runs, and stays until its input ends. */
final class BareProgram {
    static final String READY = "ready";

    private BareProgram() {}

    public static void main(String[] args) throws IOException {
        System.out.println(READY);
        while (System.in.read() >= 0) {
            // What comes is of no interest.
        }
    }
}
