package org.evenwash.record;

/** A payload that cannot be read as the message it should be: names the field and the reason. */
public final class UnreadableMessage extends Exception {
    private static final long serialVersionUID = 1L;

    private final String field;
    private final String reason;

    UnreadableMessage(String field, String reason, Throwable cause) {
        super(field + " " + reason, cause);
        this.field = field;
        this.reason = reason;
    }

    /** Path of the field, such as {@code bouts[2].agitation_s}; {@code payload} for the whole. */
    public String field() {
        return field;
    }

    public String reason() {
        return reason;
    }
}
