package org.evenwash.record;

import com.fasterxml.uuid.Generators;
import com.fasterxml.uuid.NoArgGenerator;
import java.util.UUID;

/**
 * Ids of what is kept: UUIDs of version 7 (RFC 9562, 5.7), which begin with the time at which they were made.
 * What is written together stands together in every index then. Readers take a UUID of any version.
 */
public final class Ids {
    private static final NoArgGenerator GENERATOR = Generators.timeBasedEpochGenerator();

    private Ids() {}

    /** Unlike every other, also where the clock is wrong: what follows the time is random, or one more in the same ms. */
    public static UUID next() {
        return GENERATOR.generate();
    }

    /** Eight digits by which a person may know it; the last, since the first are the time. */
    public static String shown(UUID id) {
        String digits = id.toString();
        return digits.substring(digits.length() - 8);
    }
}
