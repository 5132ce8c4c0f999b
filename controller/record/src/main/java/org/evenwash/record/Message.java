package org.evenwash.record;

/** One message of the contract. Each kind has its topic in {@link Topics} and its JSON Schema. */
public sealed interface Message
        permits CycleRecord, BenchState, LiveReading, BenchEvent, Ticket, BenchCommand, Receipt {

    /** Kind and version, such as {@code cycle/1.0}. */
    String schema();
}
