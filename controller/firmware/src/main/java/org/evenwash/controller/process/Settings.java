package org.evenwash.controller.process;

import java.time.Duration;
import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;

/**
 * What is true of this bench, fixed while the program runs. {@link #mistakes} tells all that is
 * wrong at once. The ranges stand beside what they bound, and the settings file is held to the same.
 *
 * @param positions jar positions
 * @param fitted sensors this bench has; emergency stop, lid, jars, contactor and tachometer are
 *     never optional
 * @param period of the scan
 * @param fullDrive_rpm shaft speed at full drive, loaded; where the closed loop starts from
 */
public record Settings(
        int positions,
        Set<Sensor> fitted,
        Duration period,
        Safety safety,
        Limits limits,
        double fullDrive_rpm,
        Jars jars) {

    public static final Range POSITIONS = new Range(1, 8);
    private static final Range PERIOD_MS = new Range(1, 100);
    private static final double MOST_FULL_DRIVE_RPM = 6_000;

    /** A bench without these cannot be run safely, so they cannot be configured away. */
    public static final Set<Sensor> REQUIRED =
            Set.of(Sensor.E_STOP, Sensor.LID, Sensor.JARS, Sensor.CONTACTOR, Sensor.TACHOMETER);

    /**
     * What keeps people from harm.
     *
     * @param overrunLimit a scan this late trips; below the one-shot's time
     * @param cautiousFlashPoint_C of spirit without a ticket, °C; the cautious reading is that of
     *     neat ethanol, 12 °C to 13 °C
     * @param flashPointMargin_K the spirit counts as warm this close below its flash point, K
     * @param refuseWarmSpirit true where local codes forbid what an acknowledgement would allow
     * @param cautionsHold how long an acknowledgement of the cautions lasts
     * @param proofTestEvery the time after which a proof test is due
     * @param proofTestEvery_cycles cycles after which a proof test is due
     */
    public record Safety(
            Duration overrunLimit,
            double cautiousFlashPoint_C,
            double flashPointMargin_K,
            boolean refuseWarmSpirit,
            Duration cautionsHold,
            Duration proofTestEvery,
            int proofTestEvery_cycles) {

        /** The one-shot may open after this: 200 ms less 25 % (hardware-notes/stop-chain.md). */
        public static final int ONE_SHOT_SHORTEST_MS = 150;

        /** A scan before the one-shot, so that what was late leaves a record with its cause. */
        private static final int MOST_OVERRUN_MS = ONE_SHOT_SHORTEST_MS - 10;

        /**
         * Where no motor hangs on the scan, so in no settings file: a test may measure in real time
         * on a computer that is busy otherwise.
         */
        private static final int MOST_OVERRUN_WITHOUT_MOTOR_MS = 5_000;

        public static final Range CAUTIOUS_FLASH_POINT_C = new Range(0, 60);
        public static final Range FLASH_POINT_MARGIN_K = new Range(0, 30);
        public static final Range CAUTIONS_HOLD_S = new Range(6 * 60, 12 * 3_600);
        public static final Range PROOF_TEST_EVERY_DAYS = new Range(1, 366);
        public static final Range PROOF_TEST_EVERY_CYCLES = new Range(1, 10_000);

        /** What the settings of a bench with a motor may say. */
        public static Range overrunLimit_ms(Duration period) {
            return new Range(2 * period.toMillis(), MOST_OVERRUN_MS);
        }

        private void check(Duration period, List<String> found) {
            Range overrun_ms =
                    new Range(overrunLimit_ms(period).least(), MOST_OVERRUN_WITHOUT_MOTOR_MS);
            within(found, "overrunLimit_ms", (double) overrunLimit.toMillis(), overrun_ms);
            within(found, "cautiousFlashPoint_C", cautiousFlashPoint_C, CAUTIOUS_FLASH_POINT_C);
            within(found, "flashPointMargin_K", flashPointMargin_K, FLASH_POINT_MARGIN_K);
            within(found, "cautionsHold_s", seconds(cautionsHold), CAUTIONS_HOLD_S);
            double days = seconds(proofTestEvery) / Duration.ofDays(1).toSeconds();
            within(found, "proofTestEvery_days", days, PROOF_TEST_EVERY_DAYS);
            within(found, "proofTestEvery_cycles", proofTestEvery_cycles, PROOF_TEST_EVERY_CYCLES);
        }
    }

    /**
     * Beyond which a recipe is refused, and a reading trips.
     *
     * @param fastest_rpm fastest a recipe may ask for, and 15 % above it the drive is cut
     * @param longestCycle from start to end, holds included
     * @param longestStopRamp of a process stop or hold
     * @param motorHottest_C hottest the motor may get, °C
     * @param supplyLowest_V lowest motor supply, V
     * @param currentMost_A highest motor current, A
     */
    public record Limits(
            double fastest_rpm,
            Duration longestCycle,
            Duration longestStopRamp,
            double motorHottest_C,
            double supplyLowest_V,
            double currentMost_A) {

        public static final Range FASTEST_RPM = new Range(10, 3_000);
        public static final Range LONGEST_CYCLE_S = new Range(60, 4 * 3_600);
        public static final Range LONGEST_STOP_RAMP_S = new Range(0, 5);
        public static final Range MOTOR_HOTTEST_C = new Range(30, 140);
        public static final Range SUPPLY_LOWEST_V = new Range(1, 60);
        public static final Range CURRENT_MOST_A = new Range(0.1, 100);

        private void check(List<String> found) {
            within(found, "fastest_rpm", fastest_rpm, FASTEST_RPM);
            within(found, "longestCycle_s", seconds(longestCycle), LONGEST_CYCLE_S);
            within(found, "longestStopRamp_s", seconds(longestStopRamp), LONGEST_STOP_RAMP_S);
            within(found, "motorHottest_C", motorHottest_C, MOTOR_HOTTEST_C);
            within(found, "supplyLowest_V", supplyLowest_V, SUPPLY_LOWEST_V);
            within(found, "currentMost_A", currentMost_A, CURRENT_MOST_A);
        }
    }

    /**
     * What happens to jars that are done.
     *
     * @param remindAfter the sounder asks for the jar this long after the end
     * @param soakLimit the record waits this long for the jar's removal, then goes without
     */
    public record Jars(Duration remindAfter, Duration soakLimit) {
        public static final Range REMIND_AFTER_S = new Range(12, 3_600);
        public static final Range SOAK_LIMIT_S = new Range(12, 24 * 3_600);

        private void check(List<String> found) {
            within(found, "remindAfter_s", seconds(remindAfter), REMIND_AFTER_S);
            within(found, "soakLimit_s", seconds(soakLimit), SOAK_LIMIT_S);
        }
    }

    /** One jar, every sensor, a 12 V motor geared to 400 rpm. */
    public static final Settings DEFAULTS =
            new Settings(
                    1,
                    EnumSet.allOf(Sensor.class),
                    Duration.ofMillis(10),
                    new Safety(
                            Duration.ofMillis(100),
                            12,
                            5,
                            false,
                            Duration.ofHours(12),
                            Duration.ofDays(30),
                            100),
                    new Limits(300, Duration.ofHours(3), Duration.ofSeconds(2), 80, 10.5, 6),
                    400,
                    new Jars(Duration.ofMinutes(3), Duration.ofMinutes(10)));

    public Settings {
        // An EnumSet answers from one bit; it is asked dozens of times in every scan.
        EnumSet<Sensor> sensors = EnumSet.noneOf(Sensor.class);
        sensors.addAll(fitted);
        fitted = Collections.unmodifiableSet(sensors);
    }

    /** The drive must reach the fastest speed that a recipe may ask for. */
    public static Range fullDrive_rpm(double fastest_rpm) {
        return new Range(fastest_rpm, MOST_FULL_DRIVE_RPM);
    }

    /** The same bench with other sensors. */
    public Settings with(Set<Sensor> others) {
        return new Settings(positions, others, period, safety, limits, fullDrive_rpm, jars);
    }

    boolean has(Sensor sensor) {
        return fitted.contains(sensor);
    }

    int allPositions() {
        return (1 << positions) - 1;
    }

    /** All that is wrong, each with what is allowed; empty when the bench may use them. */
    public List<String> mistakes() {
        List<String> found = new ArrayList<>();
        within(found, "positions", positions, POSITIONS);
        for (Sensor sensor : REQUIRED.stream().sorted().toList()) {
            if (!has(sensor)) {
                found.add("fitted: " + sensor.title() + " is never optional");
            }
        }
        within(found, "period_ms", (double) period.toMillis(), PERIOD_MS);
        safety.check(period, found);
        limits.check(found);
        within(found, "fullDrive_rpm", fullDrive_rpm, fullDrive_rpm(limits.fastest_rpm));
        jars.check(found);
        return List.copyOf(found);
    }

    private static void within(List<String> found, String key, double value, Range allowed) {
        if (!allowed.holds(value)) {
            found.add(key + " " + Range.plain(value) + ": allowed are " + allowed);
        }
    }

    private static double seconds(Duration duration) {
        return duration.toMillis() / 1_000.0;
    }
}
