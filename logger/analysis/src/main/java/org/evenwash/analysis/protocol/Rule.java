package org.evenwash.analysis.protocol;

import java.util.Objects;

/**
 * One point of a protocol.
 *
 * @param severity what a miss counts as
 * @param note how the source's wording was read; may be empty
 */
public record Rule(Point point, Limit limit, Severity severity, Source source, String note) {
    /** What a missed limit counts as. */
    public enum Severity {
        FAIL,
        CAUTION
    }

    public Rule {
        Objects.requireNonNull(severity, "severity");
        Objects.requireNonNull(source, "source");
        Objects.requireNonNull(note, "note");
        if (limit.kind() != point.kind()) {
            throw new IllegalArgumentException(
                    point.key()
                            + " takes a "
                            + point.kind()
                            + " limit, not one of kind "
                            + limit.kind());
        }
        if (limit instanceof Limit.OneOf oneOf && !point.choices().containsAll(oneOf.words())) {
            throw new IllegalArgumentException(
                    point.key() + " is one of " + point.choices() + ", not " + oneOf.words());
        }
    }
}
