package org.evenwash.controller.process;

/** One reason why a button did nothing, and what to do about it. */
public record Refusal(String tag, String reason, String remedy) {
    static Refusal of(Interlock row) {
        return new Refusal(row.tag(), row.when(), row.remedy());
    }
}
