package org.evenwash.logger.report;

import org.evenwash.analysis.threshold.Threshold;

/** A threshold in words. */
public final class ThresholdWords {
    private ThresholdWords() {}

    /** Value, unit, phase and region. */
    public static String of(Threshold threshold, Wording wording) {
        String value = wording.amount(threshold.value()) + " " + threshold.unit().words();
        String phase = threshold.phase().isEmpty() ? "" : ", " + threshold.phase();
        return value + phase + ", " + threshold.region();
    }
}
