package org.evenwash.record;

/** A value that the message contract does not allow; names the field and says why. */
public final class ContractViolation extends IllegalArgumentException {
    private static final long serialVersionUID = 1L;

    private final String field;
    private final String reason;

    ContractViolation(String field, String reason) {
        super(field + " " + reason);
        this.field = field;
        this.reason = reason;
    }

    /** The field's name as it stands on the wire. */
    public String field() {
        return field;
    }

    /** What is wrong with it, a clause that continues the field's name. */
    public String reason() {
        return reason;
    }
}
