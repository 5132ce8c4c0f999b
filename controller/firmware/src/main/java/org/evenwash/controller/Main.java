package org.evenwash.controller;

/** Starts the controller. */
public final class Main {
    private Main() {}

    public static void main(String[] args) {}
}
