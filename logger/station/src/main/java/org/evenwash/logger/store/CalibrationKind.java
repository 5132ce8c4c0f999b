package org.evenwash.logger.store;

import java.util.Optional;

/** What a calibration tells. The names are those of the column {@code calibration.kind}. */
public enum CalibrationKind {
    /** The share of the mites that a recipe brings off; infestations are corrected by it. */
    RECOVERY("recovery 1"),
    /** How long to agitate; recipes are made from it. */
    AGITATION_TIME("agitation-time 2"),
    /** Bees in a jar filled to one line. */
    FILL_LINE("bee-count 1"),
    /** Bees by the mass of the sample. */
    MASS("bee-count 1"),
    /** A bench's displayed speed against an independent tachometer. */
    BENCH_SPEED("bench-speed 1");

    private final String methodVersion;

    CalibrationKind(String methodVersion) {
        this.methodVersion = methodVersion;
    }

    /** Kept with every result; counted up whenever the same readings would give another one. */
    public String methodVersion() {
        return methodVersion;
    }

    /** Whether it estimates the bees of a sample. */
    public boolean measuresBees() {
        return this == FILL_LINE || this == MASS;
    }

    /** What a number of bees so found rests on; empty where no calibration stands behind it. */
    public static Optional<CalibrationKind> of(BeeMeasure measure) {
        return switch (measure) {
            case FILL_LINE -> Optional.of(FILL_LINE);
            case MASS -> Optional.of(MASS);
            case COUNTED, NOT_STATED -> Optional.empty();
        };
    }
}
