package org.evenwash.analysis.operators;

/** What washes are grouped by when their recovery is compared, in the words of the answer. */
public enum Compared {
    OPERATORS(
            "operator",
            "operators",
            "with the same recipe, on the same bench, on the same day",
            "jar, sieve, spirit, sample, light, time to counting"),
    BENCHES(
            "bench",
            "benches",
            "by the same operator, with the same recipe, on the same day",
            "jar, sieve, spirit, sample, light, time to counting"),
    DAYS(
            "day",
            "days",
            "by the same operator, with the same recipe, on the same bench",
            "spirit, temperature, the colonies sampled, light, who else was there"),
    BATCHES(
            "batch of spirit",
            "batches of spirit",
            "by the same operator, with the same recipe, on the same bench",
            "day, temperature, the colonies sampled, number of uses");

    private final String one;
    private final String many;
    private final String conditions;
    private final String lookAt;

    Compared(String one, String many, String conditions, String lookAt) {
        this.one = one;
        this.many = many;
        this.conditions = conditions;
        this.lookAt = lookAt;
    }

    public String one() {
        return one;
    }

    public String many() {
        return many;
    }

    /** What must be equal before two of them may be compared, as an adverbial. */
    public String conditions() {
        return conditions;
    }

    /** What else may make a difference between them. */
    String lookAt() {
        return lookAt;
    }
}
