package org.evenwash.controller.pi4j;

import java.util.List;

/** What can be asked about the computer before any line is taken. The real one is {@link LinuxBoard}. */
interface Board {
    /** The processor, as {@code os.arch} names it. */
    String architecture();

    /** The device tree's name of the board; empty when there is none. */
    String model();

    /** The GPIO chips that this user may open, in the kernel's order. */
    List<Chip> chips();

    /** Paths of GPIO devices that exist but may not be opened by this user. */
    List<String> forbiddenChips();

    /**
     * One chip.
     *
     * @param label the driver's word for it
     * @param lines how many it has
     * @param firstInterface whether the kernel answers in version 1 of the GPIO character device
     */
    record Chip(String label, int lines, boolean firstInterface) {}
}
