package org.evenwash.logger.wash;

import java.time.Duration;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.ResultJson;
import org.evenwash.analysis.speed.SpeedBias;
import org.evenwash.logger.store.Calibration;
import org.evenwash.logger.store.CalibrationKind;
import org.evenwash.logger.store.Calibrations;
import org.evenwash.logger.store.Recipes;
import org.evenwash.record.Ids;
import org.jdbi.v3.core.Handle;

/** A bench's displayed speed against an independent tachometer. */
public final class SpeedChecks {
    /** Yearly: common practice for measuring tools, no source. */
    public static final int OLD_AFTER_DAYS = 365;

    private static final int MOST_READINGS = 200;

    private final Desk desk;
    private final CalibrationShelf shelf;

    SpeedChecks(Desk desk, CalibrationShelf shelf) {
        this.desk = desk;
        this.shelf = shelf;
    }

    /** Whether the display can be trusted within what recipes allow a speed to stray. */
    public enum Standing {
        /** The whole interval lies within. */
        WITHIN,
        /** The interval reaches beyond, but not all of it. */
        UNDECIDED,
        /** The whole interval lies beyond. */
        OFF,
        /** No reading, or too few. */
        UNKNOWN
    }

    /**
     * The latest check of a bench.
     *
     * @param bias per cent
     * @param allowed_percent the narrowest speed tolerance among the recipes on offer
     * @param old made more than {@value #OLD_AFTER_DAYS} days ago
     */
    public record Check(
            Calibration calibration,
            Result bias,
            double allowed_percent,
            Standing standing,
            boolean old) {
        /** Old, or not known to be within what recipes allow. */
        public boolean asksForSomething() {
            return old || standing != Standing.WITHIN;
        }
    }

    /**
     * Keeps readings as the check that a bench goes by from now on.
     *
     * @return the calibration's id
     * @throws Refused if there are fewer than {@value SpeedBias#MIN_READINGS}
     */
    public UUID add(String benchId, List<SpeedBias.Reading> readings, By by) {
        if (readings.size() < SpeedBias.MIN_READINGS || readings.size() > MOST_READINGS) {
            throw Refused.invalid(
                    "readings",
                    "are "
                            + readings.size()
                            + ", expected "
                            + SpeedBias.MIN_READINGS
                            + " to "
                            + MOST_READINGS,
                    "read display and tachometer at least three times, better at several speeds");
        }
        Map<String, Object> inputs = new LinkedHashMap<>();
        inputs.put(
                "displayed_rpm", readings.stream().map(SpeedBias.Reading::displayed_rpm).toList());
        inputs.put(
                "reference_rpm", readings.stream().map(SpeedBias.Reading::reference_rpm).toList());
        Map<String, Object> result =
                Map.of("bias", ResultJson.of(SpeedBias.of(readings), Quantity.SPEED_BIAS));
        UUID id = Ids.next();
        return desk.onceAt(
                by,
                "check the speed of bench",
                benchId,
                id,
                handle -> {
                    String name = BenchRegister.bench(handle, benchId).name();
                    shelf.put(
                            handle,
                            id,
                            new CalibrationShelf.Draft(
                                    CalibrationKind.BENCH_SPEED,
                                    name,
                                    benchId,
                                    null,
                                    null,
                                    inputs,
                                    result,
                                    true),
                            by);
                });
    }

    /** The check that a bench goes by; empty if it was never checked. */
    public Optional<Check> of(String benchId) {
        return desk.read(
                handle ->
                        Calibrations.inUse(
                                        handle, CalibrationKind.BENCH_SPEED, desk.demonstration())
                                .stream()
                                .filter(one -> one.benchId().equals(benchId))
                                .findFirst()
                                .map(one -> check(handle, one)));
    }

    private Check check(Handle handle, Calibration calibration) {
        Result bias = SpeedBias.of(readings(calibration));
        double allowed =
                100
                        * Recipes.current(handle).stream()
                                .mapToDouble(one -> one.sheet().tolerances().speed_fraction())
                                .min()
                                .orElse(0);
        boolean old =
                calibration.madeAt().plus(Duration.ofDays(OLD_AFTER_DAYS)).isBefore(desk.now());
        return new Check(calibration, bias, allowed, standing(bias, allowed), old);
    }

    static Standing standing(Result bias, double allowed_percent) {
        if (!(bias instanceof Result.Estimate estimate)) {
            return Standing.UNKNOWN;
        }
        if (estimate.lower() >= -allowed_percent && estimate.upper() <= allowed_percent) {
            return Standing.WITHIN;
        }
        boolean beyond = estimate.lower() > allowed_percent || estimate.upper() < -allowed_percent;
        return beyond ? Standing.OFF : Standing.UNDECIDED;
    }

    /** The readings of a stored check. */
    public static List<SpeedBias.Reading> readings(Calibration calibration) {
        double[] displayed = CalibrationShelf.readings(calibration, "displayed_rpm");
        double[] reference = CalibrationShelf.readings(calibration, "reference_rpm");
        List<SpeedBias.Reading> readings = new ArrayList<>();
        for (int i = 0; i < displayed.length; i++) {
            readings.add(new SpeedBias.Reading(displayed[i], reference[i]));
        }
        return readings;
    }
}
