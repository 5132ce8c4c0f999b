package org.evenwash.analysis.speed;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.Result.Estimate;
import org.evenwash.analysis.Result.NotEnoughData;
import org.evenwash.analysis.numeric.Quantiles;

/**
 * How far a bench's display reads above an independent tachometer, per cent of the tachometer: the
 * mean of the relative differences with Student's t limits.
 */
public final class SpeedBias {
    /** Fewer readings give no interval that is worth the name. */
    public static final int MIN_READINGS = 3;

    /** A spread below this many per cent is the digits of the instruments, not their agreement. */
    private static final double LEAST_SD_PERCENT = 0.1;

    private static final String REFERENCE =
            "The tachometer is taken for right; what its own certificate allows comes on top.";

    private SpeedBias() {}

    /** One pair of readings at the same moment, revolutions per minute, both above 0. */
    public record Reading(double displayed_rpm, double reference_rpm) {
        public Reading {
            if (!(displayed_rpm > 0 && displayed_rpm <= 1e5)
                    || !(reference_rpm > 0 && reference_rpm <= 1e5)) {
                throw new IllegalArgumentException(
                        "readings of "
                                + displayed_rpm
                                + " and "
                                + reference_rpm
                                + " rpm: expected above 0 and at most 100,000");
            }
        }

        /** Display above tachometer, per cent of the tachometer. */
        public double percent() {
            return 100 * (displayed_rpm - reference_rpm) / reference_rpm;
        }
    }

    /** Per cent; negative where the display reads too low. */
    public static Result of(List<Reading> readings) {
        int n = readings.size();
        if (n < MIN_READINGS) {
            return new NotEnoughData(
                    "at least " + MIN_READINGS + " pairs of readings (now " + n + ")");
        }
        double[] percent = readings.stream().mapToDouble(Reading::percent).toArray();
        double mean = Arrays.stream(percent).sum() / n;
        double squares = Arrays.stream(percent).map(d -> (d - mean) * (d - mean)).sum();
        double sd = Math.max(LEAST_SD_PERCENT, Math.sqrt(squares / (n - 1)));
        double half = Quantiles.student95(n - 1) * sd / Math.sqrt(n);
        List<String> remarks = new ArrayList<>();
        remarks.add(REFERENCE);
        if (readings.stream().mapToDouble(Reading::displayed_rpm).distinct().count() == 1) {
            remarks.add("All at one speed: nothing is said about others.");
        }
        return new Estimate(mean, mean - half, mean + half, remarks);
    }
}
