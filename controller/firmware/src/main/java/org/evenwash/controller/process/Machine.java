package org.evenwash.controller.process;

import static org.evenwash.controller.process.State.ABORTED;
import static org.evenwash.controller.process.State.ABORTING;
import static org.evenwash.controller.process.State.COMPLETE;
import static org.evenwash.controller.process.State.HELD;
import static org.evenwash.controller.process.State.HOLDING;
import static org.evenwash.controller.process.State.IDLE;
import static org.evenwash.controller.process.State.RESTARTING;
import static org.evenwash.controller.process.State.RUNNING;
import static org.evenwash.controller.process.State.STOPPED;
import static org.evenwash.controller.process.State.STOPPING;

import java.util.List;
import java.util.UUID;

/**
 * The whole state of a bench. One scan is {@link #step}; what the pins and lamps show is {@link
 * Outputs#of}; what people are told is {@link Status#of}.
 *
 * @param since_ns uptime at which {@code state} was entered
 * @param uptime_ns uptime of the last scan
 * @param scanned false until the first scan
 * @param ending what took the machine out of RUNNING
 * @param load what is loaded for the next start, with what is wrong with it
 * @param refused why the last START or RESTART did nothing; empty once it did something
 * @param lastCommand the button that was down in the last scan: a button held down counts once
 * @param heartbeat level of the heartbeat line
 */
public record Machine(
        Settings settings,
        State state,
        long since_ns,
        long uptime_ns,
        boolean scanned,
        Trips trips,
        Drive drive,
        Cycle cycle,
        Memory memory,
        ProofTest proof,
        Journal journal,
        Ending ending,
        Load load,
        List<Refusal> refused,
        Command lastCommand,
        Choice lastChoice,
        boolean silenced,
        boolean heartbeat) {

    static final String OPERATOR = "OPERATOR";
    static final String REMOTE = "REMOTE";

    /** The bench as it comes up: IDLE, whatever it did before. */
    public static Machine boot(Settings settings, ProofRecord proof) {
        return boot(settings, proof, null, List.of());
    }

    /**
     * The bench as it comes up after another boot.
     *
     * @param previousCycle the last cycle the outbox knows of, which "same jar again" would
     *     continue; null when it knows of none
     */
    public static Machine boot(
            Settings settings, ProofRecord proof, UUID previousCycle, List<Position> jars) {
        if (!settings.mistakes().isEmpty()) {
            throw new IllegalArgumentException(String.join("; ", settings.mistakes()));
        }
        return new Machine(
                settings,
                IDLE,
                0,
                0,
                false,
                Trips.NONE,
                Drive.OFF,
                Cycle.NONE,
                Memory.atBoot(previousCycle, jars, proof),
                ProofTest.NONE,
                Journal.EMPTY,
                Ending.NONE,
                Load.NONE,
                List.of(),
                Command.NONE,
                Choice.NONE,
                false,
                false);
    }

    /** One scan. The same machine and inputs always give the same result: time is an input too. */
    public static Machine step(Machine m, Inputs in) {
        Command pressed = in.command() == m.lastCommand ? Command.NONE : in.command();
        Choice chosen = in.choice() == m.lastChoice ? Choice.NONE : in.choice();

        Trips trips = m.trips.scan(m, in, pressed == Command.RESET);
        Memory seen = m.memory.seen(m, in).chosen(chosen, m, in);
        Cycle measured = m.cycle.measured(m, in);

        Command asked = Command.strongest(pressed, in.remote().command());
        Command command =
                resets(m, asked, trips) ? asked : Command.strongest(asked, trips.demand());
        List<Refusal> refused = Refusals.of(m, pressed, chosen, trips, in);
        boolean starts = command == Command.START || command == Command.RESTART;
        // The refusals of a scan with PROOF TEST are those of the test: they clear no start.
        boolean refuses = !refused.isEmpty() || chosen == Choice.PROOF_TEST;
        State wanted = starts && refuses ? m.state : commanded(m.state, command);
        State state = wanted == m.state ? progressed(m, measured, trips, in) : wanted;

        String by = by(command, pressed, trips);
        Ending ending = m.ending.next(m.state, state, by);
        Cycle cycle = sequenced(m, measured, state, ending, in);
        Drive drive = driven(m, state, cycle, trips, in);
        ProofTest proof = m.proof.next(m, in, pressed);
        if (chosen == Choice.PROOF_TEST && refused.isEmpty()) {
            proof = proof.begin(in);
        }
        Memory memory = remembered(m, seen, cycle, proof, in);
        Machine after =
                new Machine(
                        m.settings,
                        state,
                        state == m.state ? m.since_ns : in.uptime_ns(),
                        in.uptime_ns(),
                        true,
                        trips,
                        drive,
                        cycle.soaking(memory, m.settings, in, chosen),
                        memory,
                        proof,
                        m.journal,
                        ending,
                        m.load.of(in.job(), m.settings),
                        refused,
                        in.command(),
                        in.choice(),
                        state == m.state && (m.silenced || chosen == Choice.SILENCE),
                        proof.wantsHeartbeat() ? !m.heartbeat : m.heartbeat);
        Journal journal = Journal.of(m, after, in);
        return journal.equals(m.journal) ? after : after.with(journal);
    }

    /**
     * After an end, a row that asks for HOLD or STOP has nothing left to hold: it keeps the bench from
     * starting, not from going back to IDLE. So a lid that opened the contactor needs no re-arming
     * before the jar is put away.
     */
    private static boolean resets(Machine m, Command asked, Trips trips) {
        return asked == Command.RESET && m.state.ended() && trips.demand() != Command.ABORT;
    }

    /** What a command does in each state; elsewhere it does nothing. */
    private static State commanded(State state, Command command) {
        return switch (command) {
            case ABORT -> state == ABORTED ? ABORTED : ABORTING;
            case STOP -> state.inCycle() ? STOPPING : state;
            case HOLD -> state == RUNNING || state == RESTARTING ? HOLDING : state;
            case RESET -> state.ended() ? IDLE : state;
            case RESTART -> state == HELD ? RESTARTING : state;
            case START -> state == IDLE ? RUNNING : state;
            case NONE -> state;
        };
    }

    /** Where an acting state ends. A new state does not compile until it is answered here. */
    private static State progressed(Machine m, Cycle cycle, Trips trips, Inputs in) {
        return switch (m.state) {
            case RUNNING -> cycle.complete() ? COMPLETE : RUNNING;
            case HOLDING -> m.standsStill(in) ? HELD : HOLDING;
            case RESTARTING -> trips.againstRestart() == 0 ? RUNNING : HOLDING;
            case STOPPING -> m.standsStill(in) ? STOPPED : STOPPING;
            case ABORTING -> m.standsStill(in) ? ABORTED : ABORTING;
            case IDLE, COMPLETE, HELD, STOPPED, ABORTED -> m.state;
        };
    }

    /** The cycle after this scan: begun, paused, resumed, ended, or one step on in its recipe. */
    private static Cycle sequenced(
            Machine m, Cycle measured, State state, Ending ending, Inputs in) {
        if (state == RUNNING && m.state == IDLE) {
            return Cycle.start(m, in);
        }
        if (!measured.running()) {
            return measured;
        }
        if (state.ended()) {
            return measured.ended(outcome(state), ending.by(), m, in);
        }
        if (state == HOLDING && m.state == RUNNING) {
            return measured.paused(ending.first(), in.uptime_ns());
        }
        if (state != RUNNING) {
            return measured;
        }
        Cycle going = m.state == RESTARTING ? measured.resumed(in.uptime_ns()) : measured;
        boolean durable = in.durable() >= m.journal.awaited();
        return going.sequenced(durable, m.standsStill(in), m.drive.reverse(), in.uptime_ns());
    }

    private static Outcome outcome(State ended) {
        return switch (ended) {
            case COMPLETE -> Outcome.COMPLETE;
            case STOPPED -> Outcome.STOPPED;
            case ABORTED -> Outcome.ABORTED;
            case IDLE, RUNNING, HOLDING, HELD, RESTARTING, STOPPING, ABORTING ->
                    throw new IllegalStateException("no cycle ends in " + ended);
        };
    }

    /** The drive: at once off for a safety row, down a ramp otherwise. */
    private static Drive driven(Machine m, State state, Cycle cycle, Trips trips, Inputs in) {
        if (trips.safety()) {
            return m.drive.off(in.uptime_ns());
        }
        return switch (state) {
            case RUNNING ->
                    cycle.step() == Step.AGITATE
                            ? m.drive.at(cycle.asked_rpm(), cycle.bout().reverse(), m, in)
                            : m.drive.off(in.uptime_ns());
            case HOLDING, STOPPING -> rampedDown(m, cycle, in);
            case IDLE, COMPLETE, HELD, RESTARTING, STOPPED, ABORTING, ABORTED ->
                    m.drive.off(in.uptime_ns());
        };
    }

    /** Never longer than the bench allows, never beyond the agitation that was asked for. */
    private static Drive rampedDown(Machine m, Cycle cycle, Inputs in) {
        long ramp_ns =
                Math.min(
                        cycle.bout().ramp().toNanos(),
                        m.settings.limits().longestStopRamp().toNanos());
        if (!m.drive.on() || ramp_ns == 0 || cycle.boutAgitated()) {
            return m.drive.off(in.uptime_ns());
        }
        double step_rpm = cycle.bout().speed_rpm() * m.elapsed_ns(in) / ramp_ns;
        double left_rpm = m.drive.setpoint_rpm() - step_rpm;
        return left_rpm <= 0
                ? m.drive.off(in.uptime_ns())
                : m.drive.at(left_rpm, m.drive.reverse(), m, in);
    }

    private static Memory remembered(
            Machine m, Memory seen, Cycle cycle, ProofTest proof, Inputs in) {
        if (m.proof.active() && proof.step() == ProofTest.Step.PASSED) {
            return seen.proven(ProofRecord.passedNow(in));
        }
        if (m.proof.active() && proof.disproved()) {
            return seen.proven(ProofRecord.NEVER);
        }
        if (cycle.running() && !m.cycle.running()) {
            return seen.started(cycle);
        }
        return m.cycle.running() && !cycle.running() ? seen.ended(in.uptime_ns()) : seen;
    }

    /** Who asked: the first listed row, or the operator, or someone afar. */
    private static String by(Command command, Command pressed, Trips trips) {
        if (command == Command.NONE) {
            return null;
        }
        if (command == trips.demand()) {
            return trips.cause(command);
        }
        return command == pressed ? OPERATOR : REMOTE;
    }

    /** The contactor may be closed. Meaningful to a stop chain that is healthy by itself. */
    boolean permitsSupply() {
        return proof.active() || (state != ABORTING && state != ABORTED);
    }

    /** At rest as far as can be known: seen standing still, or off for longer than it can coast. */
    private boolean standsStill(Inputs in) {
        boolean coasted = in.uptime_ns() - drive.since_ns() > Interlocks.COAST.toNanos();
        boolean still = value(Sensor.TACHOMETER, in) < Interlocks.STANDSTILL_RPM;
        return !drive.on() && (still || coasted);
    }

    /** Time since the last scan; 0 at the first, and when a clock runs backward. */
    long elapsed_ns(Inputs in) {
        return scanned ? Math.max(0, in.uptime_ns() - uptime_ns) : 0;
    }

    /** A measured value, NaN when it cannot be believed or its sensor is not fitted. */
    double value(Sensor sensor, Inputs in) {
        Reading reading = in.readings().of(sensor);
        boolean usable = settings.has(sensor) && reading.usable(sensor, in.uptime_ns());
        return usable ? reading.value() : Double.NaN;
    }

    boolean fault(Sensor sensor, Inputs in) {
        return settings.has(sensor) && Double.isNaN(value(sensor, in));
    }

    boolean fault(Sensor sensor, Contact contact) {
        return settings.has(sensor) && contact != Contact.CLOSED;
    }

    private Job job(Inputs in) {
        return cycle.running() ? cycle.job() : in.job();
    }

    /** Positions that must hold a locked jar: those of the cycle, or of the next one. */
    int jars(Inputs in) {
        return job(in).jars();
    }

    /** The warmest of spirit and air is near the flash point, or cannot be known. */
    boolean warm(Inputs in) {
        double flashPoint_C = job(in).flashPoint_C();
        double least_C =
                Double.isNaN(flashPoint_C)
                        ? settings.safety().cautiousFlashPoint_C()
                        : flashPoint_C;
        return !(warmest_C(in) < least_C - settings.safety().flashPointMargin_K());
    }

    private double warmest_C(Inputs in) {
        double spirit_C = value(Sensor.SPIRIT_TEMPERATURE, in);
        double ambient_C = value(Sensor.AMBIENT_TEMPERATURE, in);
        if (!settings.has(Sensor.SPIRIT_TEMPERATURE)) {
            return ambient_C;
        }
        return settings.has(Sensor.AMBIENT_TEMPERATURE) ? Math.max(spirit_C, ambient_C) : spirit_C;
    }

    boolean runnable(Job job) {
        return job.equals(load.job()) && load.mistakes().isEmpty();
    }

    private Machine with(Journal next) {
        return new Machine(
                settings,
                state,
                since_ns,
                uptime_ns,
                scanned,
                trips,
                drive,
                cycle,
                memory,
                proof,
                next,
                ending,
                load,
                refused,
                lastCommand,
                lastChoice,
                silenced,
                heartbeat);
    }

    /** What this scan wants kept, in order; the loop hands it to the outbox before the next. */
    public List<Entry> entries() {
        return journal.fresh();
    }

    /** The cycle under way; null when none is. */
    public UUID cycleId() {
        return cycle.running() ? cycle.id() : null;
    }
}
