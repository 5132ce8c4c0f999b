package org.evenwash.demo;

/** Starts the controller. */
public final class Demo {
    private Demo() {}

    public static void main(String[] args) {}
}
