package org.evenwash.controller.process;

import static java.time.Duration.ofMillis;
import static java.time.Duration.ofSeconds;
import static org.evenwash.controller.process.Command.ABORT;
import static org.evenwash.controller.process.Command.HOLD;
import static org.evenwash.controller.process.Command.NONE;
import static org.evenwash.controller.process.Command.STOP;
import static org.evenwash.controller.process.Contact.CLOSED;
import static org.evenwash.controller.process.Contact.MISSING;
import static org.evenwash.controller.process.Contact.OPEN;
import static org.evenwash.controller.process.Interlock.Clears.BY_ITSELF;
import static org.evenwash.controller.process.Interlock.Clears.ON_RESET;
import static org.evenwash.controller.process.Interlock.Kind.PROCESS;
import static org.evenwash.controller.process.Interlock.Kind.SAFETY;

import java.time.Duration;
import java.util.List;
import java.util.Locale;
import org.evenwash.controller.process.Interlock.Clears;
import org.evenwash.controller.process.Interlock.Condition;
import org.evenwash.controller.process.Interlock.Kind;

/**
 * The whole safety story on one screen. When several rows trip in one scan, the first listed is
 * kept as the cause. A sensor that cannot be believed has a row of its own, listed before the rows
 * that use it, so that the message names the sensor.
 */
public final class Interlocks {
    private Interlocks() {}

    // spotless:off
    public static final List<Interlock> TABLE = List.of(
        //   tag                kind     sensor                      violated when                                            (as the machine sees it)                            persists          asks   clears
        row("E-STOP-SENSOR",    SAFETY,  Sensor.E_STOP,              "emergency stop contact: no reading",                    (m, in) -> in.readings().eStop() == MISSING,        ofMillis(0),      ABORT, ON_RESET,
            "an emergency stop that cannot be seen counts as pressed", "check the wire from the emergency stop's read-back contact, then RESET"),
        row("E-STOP",           SAFETY,  Sensor.E_STOP,              "emergency stop pressed",                                (m, in) -> in.readings().eStop() != CLOSED,         ofMillis(0),      ABORT, ON_RESET,
            "normally closed: a broken wire must look like a pressed button; the motor supply is cut by the stop itself, this row only knows of it", "make the bench safe, release the emergency stop, press RESET, re-arm the motor supply"),
        row("DRIVER-FAULT",     SAFETY,  Sensor.DRIVER,              "motor driver reports a fault, or cannot be read",       (m, in) -> m.fault(Sensor.DRIVER, in.readings().driver()), ofMillis(20), ABORT, ON_RESET,
            "20 ms outlasts the spike of a motor start; a driver in fault may not obey", "switch the motor supply off, let the driver cool, look at its wiring, then RESET"),
        row("CONTACTOR-SENSOR", SAFETY,  Sensor.CONTACTOR,           "contactor read-back: no reading",                       (m, in) -> in.readings().contactor() == MISSING,    ofMillis(50),     HOLD,  BY_ITSELF,
            "without it a welded contactor stays hidden", "check the wire from the contactor's read-back contact"),
        row("CONTACTOR-WELDED", SAFETY,  Sensor.CONTACTOR,           "contactor closed although it must be open",             Interlocks::welded,                                 ofMillis(500),    ABORT, ON_RESET,
            "500 ms is ample for a contactor to drop out; every opened lid and every emergency stop proves it anew", "unplug the motor supply; replace the contactor before using the bench again"),
        row("MOTOR-RUNAWAY",    SAFETY,  Sensor.TACHOMETER,          "shaft turns although the drive is off",                 Interlocks::runsAway,                               ofMillis(500),    ABORT, ON_RESET,
            "the loaded shaft stands still within 3 s; turning longer means a driver that is stuck on", "unplug the motor supply; replace the motor driver"),
        row("TACHO-SENSOR",     SAFETY,  Sensor.TACHOMETER,          "tachometer: no reading, or one that cannot be",         (m, in) -> m.fault(Sensor.TACHOMETER, in),          ofMillis(100),    HOLD,  ON_RESET,
            "speed is controlled and recorded from it; 100 ms is shorter than any row that uses it, so the sensor is named", "check the tachometer's plug, gap and supply, then RESET"),
        row("OVERSPEED",        SAFETY,  Sensor.TACHOMETER,          "shaft faster than 115 % of the bench's highest speed",  Interlocks::overspeed,                              ofMillis(200),    ABORT, ON_RESET,
            "a jar thrown or broken by speed wets the bench with spirit", "look for a slipped coupling or a lost jar, then RESET"),
        row("STALL",            SAFETY,  Sensor.TACHOMETER,          "shaft slower than a fifth of the speed asked for",      Interlocks::stalled,                                ofMillis(1000),   ABORT, ON_RESET,
            "a blocked motor heats and its brushes spark; 1 s lets a loaded shaft start", "free the shaft, check jar and coupling, let the motor cool, then RESET"),
        row("CURRENT-HIGH",     SAFETY,  Sensor.MOTOR_CURRENT,       "motor current above its limit",                         Interlocks::currentHigh,                            ofMillis(500),    ABORT, ON_RESET,
            "500 ms outlasts the surge of a start", "free the shaft, check the motor's wiring, then RESET"),
        row("LID-SENSOR",       SAFETY,  Sensor.LID,                 "lid contact: no reading",                               (m, in) -> in.readings().lid() == MISSING,          ofMillis(50),     HOLD,  BY_ITSELF,
            "a lid that cannot be seen counts as open", "check the wire from the lid's read-back contact"),
        row("LID-OPEN",         SAFETY,  Sensor.LID,                 "lid open",                                              (m, in) -> in.readings().lid() != CLOSED,           ofMillis(50),     HOLD,  BY_ITSELF,
            "50 ms outlasts the bounce of a reed contact; closing the lid never restarts, RESTART does", "close the lid, re-arm the motor supply, press RESTART"),
        row("GUARD-OPEN",       SAFETY,  Sensor.GUARD,               "guard over the drive open, or cannot be read",          (m, in) -> m.fault(Sensor.GUARD, in.readings().guard()), ofMillis(50), HOLD, BY_ITSELF,
            "fingers and the crank; 50 ms outlasts contact bounce", "close the guard, press RESTART"),
        row("JAR-SENSOR",       SAFETY,  Sensor.JARS,                "jar contacts: no reading",                              (m, in) -> (m.jars(in) & in.readings().jarsUnread()) != 0, ofMillis(100), HOLD, BY_ITSELF,
            "a jar that cannot be seen counts as loose", "check the wires from the jar contacts"),
        row("JAR-MISSING",      SAFETY,  Sensor.JARS,                "jar missing or not locked",                             Interlocks::jarMissing,                             ofMillis(100),    HOLD,  BY_ITSELF,
            "a loose jar is thrown; 100 ms outlasts the shaking of a contact", "put the jar in, turn the lock, press RESTART"),
        row("SUPPLY-OFF",       SAFETY,  Sensor.CONTACTOR,           "motor supply not armed",                                (m, in) -> in.readings().contactor() == OPEN,       ofMillis(300),    HOLD,  BY_ITSELF,
            "the stop chain has dropped the motor supply; 300 ms leaves the cause of that to its own row", "press the reset button of the motor supply on the bench"),
        row("SCAN-OVERRUN",     SAFETY,  null,                       "the controller was late by more than its limit",        Interlocks::overrun,                                ofMillis(0),      HOLD,  ON_RESET,
            "what was not watched may have changed; the limit is below the one-shot's time", "press RESET; if it comes again, stop other programs on this computer"),
        row("MOTOR-TEMP-SENSOR", SAFETY, Sensor.MOTOR_TEMPERATURE,   "motor temperature sensor: no reading, or one that cannot be", (m, in) -> m.fault(Sensor.MOTOR_TEMPERATURE, in), ofMillis(1000), HOLD, BY_ITSELF,
            "an unseen motor counts as hot", "check the plug of the motor temperature sensor"),
        row("MOTOR-HOT",        SAFETY,  Sensor.MOTOR_TEMPERATURE,   "motor hotter than its limit",                           Interlocks::motorHot,                               ofMillis(1000),   HOLD,  ON_RESET,
            "hot surfaces light vapour; it stays violated until 10 K below the limit", "let the motor cool, look for a stiff shaft, then RESET"),
        row("SPIRIT-TEMP-SENSOR", SAFETY, Sensor.SPIRIT_TEMPERATURE, "spirit temperature sensor: no reading, or one that cannot be", (m, in) -> m.fault(Sensor.SPIRIT_TEMPERATURE, in), ofMillis(1000), HOLD, BY_ITSELF,
            "unseen spirit counts as warm", "check the plug of the spirit temperature sensor"),
        row("AMBIENT-TEMP-SENSOR", SAFETY, Sensor.AMBIENT_TEMPERATURE, "ambient temperature sensor: no reading, or one that cannot be", (m, in) -> m.fault(Sensor.AMBIENT_TEMPERATURE, in), ofMillis(1000), HOLD, BY_ITSELF,
            "unseen air counts as warm", "check the plug of the ambient temperature sensor"),
        row("SPIRIT-WARM",      SAFETY,  Sensor.SPIRIT_TEMPERATURE,  "spirit or air near the spirit's flash point",           Interlocks::spiritWarm,                             ofMillis(2000),   HOLD,  BY_ITSELF,
            "above its flash point spirit gives off enough vapour to burn; 2 s outlasts a noisy reading", "cool spirit and bench, or, where local codes allow it, acknowledge for this cycle"),
        row("CURRENT-SENSOR",   PROCESS, Sensor.MOTOR_CURRENT,       "motor current sensor: no reading, or one that cannot be", (m, in) -> m.fault(Sensor.MOTOR_CURRENT, in),     ofMillis(300),    HOLD,  BY_ITSELF,
            "an unseen current counts as too high", "check the wiring of the current sensor"),
        row("SUPPLY-SENSOR",    PROCESS, Sensor.SUPPLY_VOLTAGE,      "supply voltage sensor: no reading, or one that cannot be", (m, in) -> m.fault(Sensor.SUPPLY_VOLTAGE, in),   ofMillis(300),    HOLD,  BY_ITSELF,
            "an unseen supply counts as low", "check the wiring of the voltage sensor"),
        row("SUPPLY-LOW",       PROCESS, Sensor.SUPPLY_VOLTAGE,      "motor supply voltage low",                              Interlocks::supplyLow,                              ofMillis(500),    HOLD,  ON_RESET,
            "a flat battery slows the shaft and spoils the wash; 500 ms outlasts the dip of a start", "charge or change the battery, then RESET"),
        row("SPEED-BAND",       PROCESS, Sensor.TACHOMETER,          "speed outside twice the recipe's tolerance",            Interlocks::outOfBand,                              ofMillis(2000),   HOLD,  ON_RESET,
            "the wash would not be the one asked for; 2 s lets the speed settle", "check load, belt and supply, then RESET and RESTART"),
        row("OUTBOX-SLOW",      PROCESS, null,                        "outbox slow: the last record is not safely stored yet", Interlocks::outboxSlow,                             ofSeconds(5),     HOLD,  BY_ITSELF,
            "the motor waits for its record; 5 s is far beyond a healthy card", "wait, then RESTART; if it comes again, change the memory card"),
        row("HOLD-TOO-LONG",    PROCESS, null,                        "held longer than the recipe allows",                    Interlocks::heldTooLong,                            ofMillis(0),      STOP,  BY_ITSELF,
            "bees that soaked that long were not washed by this recipe", "start again with a fresh sample, or take the record as it is"),
        row("CYCLE-TOO-LONG",   PROCESS, null,                        "cycle longer than the bench allows",                    Interlocks::cycleTooLong,                           ofMillis(0),      STOP,  BY_ITSELF,
            "nothing runs for ever, whatever was held and restarted", "take the jar out and look at it"),
        row("SHUTTING-DOWN",    PROCESS, null,                        "the controller is shutting down",                       (m, in) -> in.closing(),                            ofMillis(0),      STOP,  BY_ITSELF,
            "a stop with its record is better than a kill", "start the controller again"),
        row("NO-RECIPE",        PROCESS, null,                        "no recipe, no jar position, or one this bench cannot run", (m, in) -> !m.runnable(in.job()),                ofMillis(0),      NONE,  BY_ITSELF,
            "nothing to do", "load a ticket or choose a recipe"),
        row("OUTBOX-UNWRITABLE", PROCESS, null,                       "outbox full or not writable",                           (m, in) -> in.outbox() != OutboxState.WRITABLE,     ofMillis(0),      NONE,  BY_ITSELF,
            "no record, no run", "connect the logger, or make room on the memory card"),
        row("CAUTIONS",         PROCESS, null,                        "cautions for flammable spirit not acknowledged",        (m, in) -> m.memory().cautionsDue(m.settings(), in), ofMillis(0),     NONE,  BY_ITSELF,
            "once per start-up and at most every 12 h, by whoever stands there", "read the cautions, press ACKNOWLEDGE"),
        row("PROOF-TEST-DUE",   PROCESS, null,                        "proof test of the stop chain due",                      (m, in) -> m.memory().proof().due(m.settings(), in), ofMillis(0),     NONE,  BY_ITSELF,
            "a stop that is never tried may not work; an unsynchronised or backward clock counts as due", "choose PROOF TEST at the panel and follow it"),
        row("PROOF-TEST-RUNNING", PROCESS, null,                      "proof test under way",                                  (m, in) -> m.proof().active(),                      ofMillis(0),      NONE,  BY_ITSELF,
            "hands are in the bench", "finish the proof test, or press STOP to leave it"),
        row("JAR-LEFT-BEHIND",  PROCESS, Sensor.JARS,                "jar not taken out since the last cycle",                (m, in) -> m.memory().jarLeftBehind(m.settings()),  ofMillis(0),      NONE,  BY_ITSELF,
            "yesterday's jar must not be shaken under today's ticket", "take every jar out once, or choose SAME JAR AGAIN or SECOND WASH"),
        row("JAR-STUCK",        PROCESS, Sensor.JARS,                "jar contacts never changed before this second wash",    (m, in) -> m.memory().jarStuck(m.jars(in)),         ofMillis(0),      NONE,  BY_ITSELF,
            "a second wash needs fresh spirit, so the jar must have been out", "take the jar out and put it back; if this stays, the jar contact is stuck"),
        row("LID-STUCK",        PROCESS, Sensor.LID,                 "lid contact never changed since the last cycle",        (m, in) -> m.memory().lidStuck(),                   ofMillis(0),      NONE,  BY_ITSELF,
            "a jar cannot be changed with the lid closed", "open and close the lid; if this stays, the lid contact is stuck or bridged"),
        row("TACHO-STUCK",      PROCESS, Sensor.TACHOMETER,          "tachometer never changed during the last cycle",        (m, in) -> m.memory().tachoStuck(),                 ofMillis(0),      NONE,  BY_ITSELF,
            "a shaft that was driven cannot have kept one speed", "turn the shaft by hand; if this stays, the tachometer is stuck"));
    // spotless:on

    /** Below this the shaft counts as standing still, rpm: one tachometer pulse a second. */
    static final double STANDSTILL_RPM = 5;

    /** A drive that went off is given this long to come to rest. */
    static final Duration COAST = ofSeconds(3);

    private static final Interlock[] ROWS = TABLE.toArray(Interlock[]::new);
    private static final long[] PERSISTS_NS =
            TABLE.stream().mapToLong(row -> row.persists().toNanos()).toArray();

    private static final int MOTOR_HOT = index("MOTOR-HOT");

    static final long SAFETY_ROWS = rows(SAFETY);
    static final long BY_ITSELF_ROWS = rows(BY_ITSELF);
    static final long START_ONLY_ROWS = startOnlyRows();

    private static Interlock row(
            String tag,
            Kind kind,
            Sensor sensor,
            String when,
            Condition violated,
            Duration persists,
            Command asks,
            Clears clears,
            String why,
            String remedy) {
        return new Interlock(
                tag, kind, sensor, when, violated, persists, asks, clears, why, remedy);
    }

    static int count() {
        return ROWS.length;
    }

    static Interlock row(int index) {
        return ROWS[index];
    }

    static long persists_ns(int index) {
        return PERSISTS_NS[index];
    }

    /** The row with this tag. */
    public static Interlock row(String tag) {
        return ROWS[index(tag)];
    }

    static int index(String tag) {
        for (int i = 0; i < ROWS.length; i++) {
            if (ROWS[i].tag().equals(tag)) {
                return i;
            }
        }
        throw new IllegalArgumentException("no interlock is called " + tag);
    }

    /** Bit {@code i} is set when row {@code i} is violated in this scan. */
    static long violated(Machine before, Inputs in) {
        long bits = 0;
        for (int i = 0; i < ROWS.length; i++) {
            if (ROWS[i].violated().holds(before, in)) {
                bits |= 1L << i;
            }
        }
        return bits;
    }

    private static long rows(Kind kind) {
        long bits = 0;
        for (int i = 0; i < ROWS.length; i++) {
            bits |= ROWS[i].kind() == kind ? 1L << i : 0;
        }
        return bits;
    }

    private static long rows(Clears clears) {
        long bits = 0;
        for (int i = 0; i < ROWS.length; i++) {
            bits |= ROWS[i].clears() == clears ? 1L << i : 0;
        }
        return bits;
    }

    private static long startOnlyRows() {
        long bits = 0;
        for (int i = 0; i < ROWS.length; i++) {
            bits |= ROWS[i].asks() == NONE ? 1L << i : 0;
        }
        return bits;
    }

    // Each comparison below is written so that a missing value (NaN) counts as violated.

    private static boolean welded(Machine m, Inputs in) {
        Readings now = in.readings();
        boolean mustBeOpen = !m.permitsSupply() || now.eStop() == OPEN || now.lid() == OPEN;
        return mustBeOpen && now.contactor() == CLOSED;
    }

    /** A silent tachometer is the business of TACHO-SENSOR: it is no sign of a turning shaft. */
    private static boolean runsAway(Machine m, Inputs in) {
        return !m.drive().on()
                && in.uptime_ns() - m.drive().since_ns() > COAST.toNanos()
                && m.value(Sensor.TACHOMETER, in) > STANDSTILL_RPM;
    }

    private static boolean overspeed(Machine m, Inputs in) {
        double limit_rpm = 1.15 * m.settings().limits().fastest_rpm();
        return m.drive().on() && !(m.value(Sensor.TACHOMETER, in) <= limit_rpm);
    }

    private static boolean stalled(Machine m, Inputs in) {
        double asked_rpm = m.drive().setpoint_rpm();
        return m.drive().on()
                && asked_rpm >= 2 * STANDSTILL_RPM
                && !(m.value(Sensor.TACHOMETER, in) >= asked_rpm / 5);
    }

    private static boolean outOfBand(Machine m, Inputs in) {
        if (m.state() != State.RUNNING || !m.drive().on() || !m.cycle().atSpeed(m.drive())) {
            return false;
        }
        double asked_rpm = m.drive().setpoint_rpm();
        double allowed_rpm = 2 * m.cycle().recipe().tolerances().speed_fraction() * asked_rpm;
        return !(Math.abs(m.value(Sensor.TACHOMETER, in) - asked_rpm) <= allowed_rpm);
    }

    private static boolean currentHigh(Machine m, Inputs in) {
        return m.settings().has(Sensor.MOTOR_CURRENT)
                && m.drive().on()
                && !(m.value(Sensor.MOTOR_CURRENT, in) <= m.settings().limits().currentMost_A());
    }

    private static boolean jarMissing(Machine m, Inputs in) {
        int locked = in.readings().jarsPresent() & ~in.readings().jarsUnread();
        return (m.jars(in) & ~locked) != 0;
    }

    private static boolean overrun(Machine m, Inputs in) {
        long late_ns = in.uptime_ns() - m.uptime_ns();
        return m.scanned()
                && (late_ns > m.settings().safety().overrunLimit().toNanos() || late_ns < 0);
    }

    private static boolean motorHot(Machine m, Inputs in) {
        double limit_C =
                m.settings().limits().motorHottest_C() - (m.trips().active(MOTOR_HOT) ? 10 : 0);
        return m.settings().has(Sensor.MOTOR_TEMPERATURE)
                && !(m.value(Sensor.MOTOR_TEMPERATURE, in) < limit_C);
    }

    private static boolean spiritWarm(Machine m, Inputs in) {
        boolean allowed = m.memory().said().warm() && !m.settings().safety().refuseWarmSpirit();
        return !allowed && m.warm(in);
    }

    private static boolean supplyLow(Machine m, Inputs in) {
        return m.settings().has(Sensor.SUPPLY_VOLTAGE)
                && !(m.value(Sensor.SUPPLY_VOLTAGE, in) >= m.settings().limits().supplyLowest_V());
    }

    private static boolean outboxSlow(Machine m, Inputs in) {
        return m.state().inCycle()
                && m.cycle().step() == Step.WAIT
                && in.durable() < m.journal().awaited();
    }

    private static boolean heldTooLong(Machine m, Inputs in) {
        return (m.state() == State.HOLDING || m.state() == State.HELD)
                && m.cycle().held_ns(in.uptime_ns()) > m.cycle().recipe().longestHold().toNanos();
    }

    private static boolean cycleTooLong(Machine m, Inputs in) {
        return m.state().inCycle()
                && in.uptime_ns() - m.cycle().startedAt_ns()
                        > m.settings().limits().longestCycle().toNanos();
    }

    /** The table for people, in Markdown: the documents print this, so the two cannot differ. */
    public static String markdown() {
        StringBuilder page = new StringBuilder();
        page.append("| Interlock | Kind | Violated when | Persists | Asks for | Clears | Why |");
        page.append(" What the operator does |\n|---|---|---|---|---|---|---|---|\n");
        for (Interlock row : TABLE) {
            page.append("| ").append(row.tag());
            page.append(" | ").append(row.kind().name().toLowerCase(Locale.ROOT));
            page.append(" | ").append(row.when());
            page.append(" | ").append(row.persists().toMillis()).append(" ms");
            page.append(" | ").append(row.asks() == NONE ? "no START" : row.asks().name());
            page.append(" | ").append(row.clears() == ON_RESET ? "on RESET" : "by itself");
            page.append(" | ").append(row.why());
            page.append(" | ").append(row.remedy()).append(" |\n");
        }
        return page.toString();
    }
}
