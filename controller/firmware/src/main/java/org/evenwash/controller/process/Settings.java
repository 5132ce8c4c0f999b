package org.evenwash.controller.process;

import java.time.Duration;
import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;

/**
 * What is true of this bench, fixed while the program runs. {@link #mistakes} tells all that is
 * wrong at once.
 *
 * @param positions jar positions, 1 to 8
 * @param fitted sensors this bench has; emergency stop, lid, jars, contactor and tachometer are
 *     never optional
 * @param maxSpeed_rpm fastest a recipe may ask for, and 15 % above it the drive is cut
 * @param fullDuty_rpm shaft speed at full duty, loaded; where the closed loop starts from
 * @param period of the scan
 * @param overrunLimit a scan this late trips; below the one-shot's time
 * @param longestCycle from start to end, holds included
 * @param stopRamp longest ramp of a process stop or hold
 * @param motorLimit_C hottest the motor may get, °C
 * @param flashMargin_K the spirit counts as warm this close below its flash point, K
 * @param assumedFlashPoint_C of spirit without a ticket, °C; the cautious reading is that of neat
 *     ethanol, 12 °C to 13 °C
 * @param refuseWarmSpirit true where local codes forbid what an acknowledgement would allow
 * @param supplyMin_V lowest motor supply, V
 * @param currentMax_A highest motor current, A
 * @param cautionsHold how long an acknowledgement of the cautions lasts, at most 12 h
 * @param proofTestCycles cycles after which a proof test is due
 * @param proofTestDays days after which a proof test is due
 * @param soakReminder the sounder asks for the jar this long after the end
 * @param soakLimit the record waits this long for the jar's removal, then goes without
 */
public record Settings(
        int positions,
        Set<Sensor> fitted,
        double maxSpeed_rpm,
        double fullDuty_rpm,
        Duration period,
        Duration overrunLimit,
        Duration longestCycle,
        Duration stopRamp,
        double motorLimit_C,
        double flashMargin_K,
        double assumedFlashPoint_C,
        boolean refuseWarmSpirit,
        double supplyMin_V,
        double currentMax_A,
        Duration cautionsHold,
        int proofTestCycles,
        int proofTestDays,
        Duration soakReminder,
        Duration soakLimit) {

    /** A bench without these cannot be run safely, so they cannot be configured away. */
    public static final Set<Sensor> REQUIRED =
            Set.of(Sensor.E_STOP, Sensor.LID, Sensor.JARS, Sensor.CONTACTOR, Sensor.TACHOMETER);

    /** One jar, every sensor, a 12 V motor geared to 400 rpm. */
    public static final Settings DEFAULTS =
            new Settings(
                    1,
                    EnumSet.allOf(Sensor.class),
                    300,
                    400,
                    Duration.ofMillis(10),
                    Duration.ofMillis(100),
                    Duration.ofHours(3),
                    Duration.ofSeconds(2),
                    80,
                    5,
                    12,
                    false,
                    10.5,
                    6,
                    Duration.ofHours(12),
                    100,
                    30,
                    Duration.ofMinutes(3),
                    Duration.ofMinutes(10));

    public Settings {
        // An EnumSet answers from one bit; it is asked dozens of times in every scan.
        EnumSet<Sensor> sensors = EnumSet.noneOf(Sensor.class);
        sensors.addAll(fitted);
        fitted = Collections.unmodifiableSet(sensors);
    }

    /** The same bench with other sensors. */
    public Settings with(Set<Sensor> others) {
        return new Settings(
                positions,
                others,
                maxSpeed_rpm,
                fullDuty_rpm,
                period,
                overrunLimit,
                longestCycle,
                stopRamp,
                motorLimit_C,
                flashMargin_K,
                assumedFlashPoint_C,
                refuseWarmSpirit,
                supplyMin_V,
                currentMax_A,
                cautionsHold,
                proofTestCycles,
                proofTestDays,
                soakReminder,
                soakLimit);
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
        within(found, "positions", (long) positions, 1, 8);
        for (Sensor sensor : REQUIRED.stream().sorted().toList()) {
            if (!has(sensor)) {
                found.add("fitted: " + sensor.title() + " is never optional");
            }
        }
        within(found, "maxSpeed_rpm", maxSpeed_rpm, 10, 3000);
        within(found, "fullDuty_rpm", fullDuty_rpm, maxSpeed_rpm, 6000);
        within(found, "period_ms", period.toMillis(), 1, 100);
        // A virtual bench on a loaded host may need seconds; it must say so in its report.
        within(found, "overrunLimit_ms", overrunLimit.toMillis(), 2 * period.toMillis(), 5000);
        within(found, "longestCycle_s", longestCycle.toSeconds(), 60, 6 * 3600);
        within(found, "stopRamp_ms", stopRamp.toMillis(), 0, 5000);
        within(found, "motorLimit_C", motorLimit_C, 30, 140);
        within(found, "flashMargin_K", flashMargin_K, 0, 30);
        within(found, "assumedFlashPoint_C", assumedFlashPoint_C, 0, 60);
        within(found, "supplyMin_V", supplyMin_V, 1, 60);
        within(found, "currentMax_A", currentMax_A, 0.1, 100);
        within(found, "cautionsHold_s", cautionsHold.toSeconds(), 60, 12 * 3600);
        within(found, "proofTestCycles", proofTestCycles, 1, 10_000);
        within(found, "proofTestDays", proofTestDays, 1, 366);
        within(found, "soakReminder_s", soakReminder.toSeconds(), 10, 3600);
        within(found, "soakLimit_s", soakLimit.toSeconds(), 10, 24 * 3600);
        return List.copyOf(found);
    }

    private static void within(List<String> found, String key, long value, long least, long most) {
        if (value < least || value > most) {
            found.add(key + " " + value + ": allowed are " + least + " to " + most);
        }
    }

    private static void within(
            List<String> found, String key, double value, double least, double most) {
        if (!(value >= least && value <= most)) {
            found.add(key + " " + value + ": allowed are " + least + " to " + most);
        }
    }
}
