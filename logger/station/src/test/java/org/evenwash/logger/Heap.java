package org.evenwash.logger;

import java.lang.management.ManagementFactory;

/** What of the heap is in use once the collector has been through it. */
public final class Heap {
    private Heap() {}

    public static long used_MB() {
        // Twice: what the first round only finalises, the second one takes.
        System.gc();
        System.gc();
        return ManagementFactory.getMemoryMXBean().getHeapMemoryUsage().getUsed() >> 20;
    }
}
