package org.evenwash.record;

import java.util.List;
import java.util.regex.Pattern;

/** The checks that message constructors share. Each throws {@link ContractViolation}. */
final class Check {
    private static final Pattern BENCH_ID = Pattern.compile("[a-z0-9-]{1,32}");
    private static final Pattern SHA_256 = Pattern.compile("[0-9a-f]{64}");
    private static final int LONGEST_TEXT = 2_000;

    private Check() {}

    static <T> T present(String field, T value) {
        if (value == null) {
            throw new ContractViolation(field, "is missing");
        }
        return value;
    }

    static String benchId(String value) {
        if (!BENCH_ID.matcher(present("benchId", value)).matches()) {
            throw new ContractViolation(
                    "benchId",
                    "reads '" + shown(value) + "', expected 1 to 32 of the characters a-z 0-9 -");
        }
        return value;
    }

    static String sha256(String field, String value) {
        if (!SHA_256.matcher(present(field, value)).matches()) {
            throw new ContractViolation(field, "is not a SHA-256 in 64 lower-case hex digits");
        }
        return value;
    }

    static String text(String field, String value) {
        return optionalText(field, present(field, value));
    }

    static String optionalText(String field, String value) {
        if (value != null && value.length() > LONGEST_TEXT) {
            throw new ContractViolation(
                    field, "has " + value.length() + " characters, at most " + LONGEST_TEXT);
        }
        // No text of PostgreSQL's may hold it; what one logger stores, every logger must.
        if (value != null && value.indexOf('\0') >= 0) {
            throw new ContractViolation(field, "holds the character U+0000, which no text may");
        }
        return value;
    }

    static String optionalChoice(String field, String value, List<String> choices) {
        if (value != null && !choices.contains(value)) {
            throw new ContractViolation(
                    field,
                    "is '" + shown(value) + "', expected one of " + String.join(", ", choices));
        }
        return value;
    }

    static double range(String field, double value, double least, double most) {
        if (!(value >= least && value <= most)) {
            throw new ContractViolation(
                    field, "is " + value + ", expected " + least + " to " + most);
        }
        return value;
    }

    static Double optionalRange(String field, Double value, double least, double most) {
        if (value != null) {
            range(field, value, least, most);
        }
        return value;
    }

    static long atLeast(String field, long value, long least) {
        if (value < least) {
            throw new ContractViolation(field, "is " + value + ", expected at least " + least);
        }
        return value;
    }

    static <T> List<T> list(String field, List<T> value, int most) {
        if (present(field, value).size() > most) {
            throw new ContractViolation(field, "has " + value.size() + " entries, at most " + most);
        }
        for (T entry : value) {
            if (entry == null) {
                throw new ContractViolation(field, "has an empty (null) entry");
            }
        }
        return List.copyOf(value);
    }

    static List<String> texts(String field, List<String> value, int most) {
        list(field, value, most).forEach(entry -> text(field, entry));
        return List.copyOf(value);
    }

    /** What a stranger sent, made short and harmless enough for one line of a log. */
    static String shown(String value) {
        String plain = PlainText.of(value);
        return plain.length() <= 60 ? plain : plain.substring(0, 57) + "...";
    }
}
