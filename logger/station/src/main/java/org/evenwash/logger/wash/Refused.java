package org.evenwash.logger.wash;

/** A change that was not made: what is wrong, where, and what to do about it. */
public class Refused extends RuntimeException {
    private static final long serialVersionUID = 1L;

    /** Why, in the four ways that a caller answers differently. */
    public enum Kind {
        /** A value that cannot be. */
        INVALID,
        /** It names something that is not here. */
        NOT_FOUND,
        /** Right in itself, but it contradicts what is here already. */
        CONFLICT,
        /** It could be done later: a bench or broker is away. */
        UNAVAILABLE
    }

    private final Kind kind;
    private final String where;
    private final String what;
    private final String remedy;

    protected Refused(Kind kind, String where, String what, String remedy) {
        super(where + " " + what + "; " + remedy);
        this.kind = kind;
        this.where = where;
        this.what = what;
        this.remedy = remedy;
    }

    public static Refused invalid(String where, String what, String remedy) {
        return new Refused(Kind.INVALID, where, what, remedy);
    }

    public static Refused notFound(String where, Object id) {
        return new Refused(
                Kind.NOT_FOUND, where, "'" + id + "' is not here", "choose one from the list");
    }

    public static Refused conflict(String where, String what, String remedy) {
        return new Refused(Kind.CONFLICT, where, what, remedy);
    }

    public static Refused unavailable(String where, String what, String remedy) {
        return new Refused(Kind.UNAVAILABLE, where, what, remedy);
    }

    public Kind kind() {
        return kind;
    }

    /** The field or thing, such as {@code mites}. */
    public String where() {
        return where;
    }

    /** A clause that continues {@link #where}. */
    public String what() {
        return what;
    }

    /** What to do, as an instruction. */
    public String remedy() {
        return remedy;
    }
}
