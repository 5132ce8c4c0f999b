package org.evenwash.controller.process;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;

/**
 * The machine in words and figures, for panel, page and messages. Made a few times a second, not on
 * every scan.
 *
 * @param cycleId of the cycle under way; null when none is
 * @param recipe of the cycle, or of what is loaded; null when nothing is
 * @param bout number of the bout under way, from 1; 0 outside a cycle
 * @param boutAgitated agitation of this bout so far
 * @param boutLeft agitation of this bout still to come
 * @param elapsed since the start of the cycle; zero outside one
 * @param left planned time to the end, holds left out
 * @param speed_rpm seen; NaN when the tachometer gives nothing
 * @param setpoint_rpm asked for
 * @param spirit_C NaN without a reading
 * @param supply_V NaN without a reading
 * @param lamp what the lamps say
 * @param cause tag of what first took it out of RUNNING; null
 * @param tripped rows that have fired and not cleared
 * @param againstStart rows that would refuse a START now
 * @param refused why the last START or RESTART did nothing
 * @param prompt what the operator is asked to do; empty when nothing
 */
public record Status(
        State state,
        Step step,
        UUID cycleId,
        Recipe recipe,
        List<Position> positions,
        int bout,
        int bouts,
        Duration boutAgitated,
        Duration boutLeft,
        Duration elapsed,
        Duration left,
        double speed_rpm,
        double setpoint_rpm,
        double spirit_C,
        double supply_V,
        Meaning lamp,
        Sound sound,
        boolean needsOperator,
        String cause,
        List<Interlock> tripped,
        List<Interlock> againstStart,
        List<Refusal> refused,
        String prompt) {

    public static Status of(Machine m, Inputs in) {
        Cycle cycle = m.cycle();
        boolean running = cycle.running();
        Job job = running ? cycle.job() : in.job();
        return new Status(
                m.state(),
                running ? cycle.step() : Step.NONE,
                m.cycleId(),
                job.recipe(),
                job.positions(),
                running ? cycle.progress().bout() + 1 : 0,
                job.recipe() == null ? 0 : job.recipe().boutCount(),
                Duration.ofNanos(running ? cycle.progress().agitated_ns() : 0),
                running ? boutLeft(cycle) : Duration.ZERO,
                Duration.ofNanos(running ? m.uptime_ns() - cycle.startedAt_ns() : 0),
                running ? left(cycle) : job.recipe() == null ? Duration.ZERO : job.recipe().total(),
                m.value(Sensor.TACHOMETER, in),
                m.drive().setpoint_rpm(),
                m.value(Sensor.SPIRIT_TEMPERATURE, in),
                m.value(Sensor.SUPPLY_VOLTAGE, in),
                Signals.main(m),
                Signals.sound(m),
                Signals.needsOperator(m),
                m.ending().first(),
                m.trips().active(),
                running ? List.of() : Trips.rows(m.trips().againstStart()),
                m.refused(),
                prompt(m));
    }

    private static Duration boutLeft(Cycle cycle) {
        Duration left = cycle.bout().agitation().minusNanos(cycle.progress().agitated_ns());
        boolean over = cycle.step() == Step.REST || left.isNegative();
        return over ? Duration.ZERO : left;
    }

    private static Duration left(Cycle cycle) {
        Progress at = cycle.progress();
        Duration left = Duration.ZERO;
        for (int i = at.bout(); i < cycle.recipe().boutCount(); i++) {
            Bout bout = cycle.recipe().bout(i);
            left = left.plus(bout.agitation()).plus(bout.rest());
        }
        if (cycle.step() == Step.REST) {
            left = left.minus(cycle.bout().agitation()).minusNanos(at.rest_ns());
        } else {
            left = left.minusNanos(at.agitated_ns());
        }
        return left.isNegative() ? Duration.ZERO : left;
    }

    private static String prompt(Machine m) {
        if (m.proof().active()) {
            return m.proof().prompt();
        }
        String wanted = wanted(m);
        boolean justProved = m.state() == State.IDLE && m.proof().fresh(m.uptime_ns());
        return justProved ? (m.proof().prompt() + " " + wanted).strip() : wanted;
    }

    private static String wanted(Machine m) {
        List<String> wanted = new ArrayList<>();
        m.refused().forEach(r -> wanted.add(r.remedy()));
        m.trips().active().stream()
                .map(Interlock::remedy)
                .filter(remedy -> !wanted.contains(remedy))
                .forEach(wanted::add);
        if (wanted.isEmpty()) {
            wanted.add(usual(m.state()));
        }
        return String.join("; ", wanted);
    }

    private static String usual(State state) {
        return switch (state) {
            case HELD -> "press RESTART to go on, STOP to end";
            case COMPLETE -> "take the jar out, then press RESET";
            case STOPPED, ABORTED -> "press RESET";
            case IDLE, RUNNING, HOLDING, RESTARTING, STOPPING, ABORTING -> "";
        };
    }
}
