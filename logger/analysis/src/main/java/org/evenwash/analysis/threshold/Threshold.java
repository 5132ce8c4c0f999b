package org.evenwash.analysis.threshold;

import java.util.OptionalDouble;
import org.evenwash.analysis.protocol.Source;

/**
 * A published or own action threshold. Guidance only: the local authority and the label come first.
 *
 * @param id short name used on the command line and in stored results
 * @param value above 0, in {@code unit}
 * @param phase phase of the colony or season it is meant for; empty if the source names none
 * @param region where it is meant for
 */
public record Threshold(
        String id, double value, Unit unit, String phase, String region, Source source) {

    /** Units in which thresholds are published. Never compare one with another unnoticed. */
    public enum Unit {
        PER_100_BEES("mites per 100 bees"),
        PER_300_BEES("mites per 300 bees washed"),
        FALL_PER_DAY("mites fallen per day"),
        PER_COLONY("mites in the colony");

        private final String words;

        Unit(String words) {
            this.words = words;
        }

        public String words() {
            return words;
        }
    }

    public Threshold {
        if (!(value > 0 && Double.isFinite(value))) {
            throw new IllegalArgumentException("a threshold lies above 0, not at " + value);
        }
        if (id.isBlank() || region.isBlank()) {
            throw new IllegalArgumentException("a threshold needs an id and a region");
        }
    }

    /** In mites per 100 bees; empty if a wash cannot be compared with it. */
    public OptionalDouble per100Bees() {
        return switch (unit) {
            case PER_100_BEES -> OptionalDouble.of(value);
            case PER_300_BEES -> OptionalDouble.of(value / 3);
            case FALL_PER_DAY, PER_COLONY -> OptionalDouble.empty();
        };
    }
}
