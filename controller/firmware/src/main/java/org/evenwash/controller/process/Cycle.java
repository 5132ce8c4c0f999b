package org.evenwash.controller.process;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;

/**
 * The cycle under way, or the last one: where in the recipe it is, and all the evidence so far.
 *
 * @param pause the hold it is in; null otherwise
 * @param end how it ended; null while it runs
 */
record Cycle(
        UUID id,
        UUID continues,
        Job job,
        long startedAt_ns,
        long startedAt_ms,
        boolean startSynchronised,
        Progress progress,
        Tally tally,
        Facts facts,
        SpeedTrace trace,
        List<BoutEvidence> bouts,
        List<Interruption> interruptions,
        Pause pause,
        End end) {

    /**
     * @param bout from 0
     * @param agitated_ns drive time of this bout so far
     * @param rest_ns motor-off time after the last agitation so far, holds left out
     * @param resumedAt_ns {@code agitated_ns} when the drive last started from standstill
     * @param begunAt_ns uptime of the bout's first drive command
     */
    record Progress(
            int bout,
            Step step,
            long agitated_ns,
            long rest_ns,
            long resumedAt_ns,
            long begunAt_ns) {}

    /** The figures of the bout under way. */
    record Tally(Stat speed, long atSpeed_ns, long inBand_ns, double revolutions) {
        static final Tally EMPTY = new Tally(Stat.EMPTY, 0, 0, 0);
    }

    /** The figures of the whole cycle. */
    record Facts(
            Stat spirit,
            Stat ambient,
            Stat motor,
            Stat supply,
            Stat current,
            long scans,
            long lateScans,
            long worstLate_ns,
            double revolutions,
            long finishedAgitation_ns,
            boolean warmAcknowledged) {
        static final Facts EMPTY =
                new Facts(
                        Stat.EMPTY,
                        Stat.EMPTY,
                        Stat.EMPTY,
                        Stat.EMPTY,
                        Stat.EMPTY,
                        0,
                        0,
                        0,
                        0,
                        0,
                        false);
    }

    record Pause(String cause, long at_ns) {}

    /**
     * @param lastDriven_ns uptime at which the drive went off for the last time
     * @param recorded the record has left; the jars no longer matter to it
     */
    record End(
            Outcome outcome,
            String by,
            long at_ns,
            long at_ms,
            boolean synchronised,
            long lastDriven_ns,
            List<Soak> soaks,
            boolean recorded) {}

    static final Cycle NONE =
            new Cycle(
                    new UUID(0, 0),
                    null,
                    Job.NONE,
                    0,
                    0,
                    false,
                    new Progress(0, Step.NONE, 0, 0, 0, 0),
                    Tally.EMPTY,
                    Facts.EMPTY,
                    SpeedTrace.EMPTY,
                    List.of(),
                    List.of(),
                    null,
                    new End(Outcome.UNFINISHED, null, 0, 0, false, 0, List.of(), true));

    static Cycle start(Machine m, Inputs in) {
        Memory memory = m.memory();
        boolean sameJar = memory.reuse() == Memory.Reuse.SAME_JAR;
        return new Cycle(
                in.nextCycleId(),
                sameJar ? memory.previousCycle() : null,
                new Job(in.job().recipe(), positions(memory, in.job()), in.job().flashPoint_C()),
                in.uptime_ns(),
                in.wallClock_ms(),
                in.clockSynchronised(),
                new Progress(0, Step.WAIT, 0, 0, 0, 0),
                Tally.EMPTY,
                Facts.EMPTY,
                SpeedTrace.EMPTY,
                List.of(),
                List.of(),
                null,
                null);
    }

    /** A jar that stays in, or comes back for its second wash, keeps its ticket and wash. */
    private static List<Position> positions(Memory memory, Job job) {
        if (memory.reuse() == Memory.Reuse.NONE) {
            return job.positions();
        }
        List<Position> positions = new ArrayList<>();
        for (Position wanted : job.positions()) {
            Position jar = wanted;
            for (Position earlier : memory.previousPositions()) {
                boolean same = earlier.position() == wanted.position();
                jar = same && wanted.ticketId() == null ? earlier : jar;
            }
            boolean second = memory.reuse() == Memory.Reuse.SECOND_WASH;
            positions.add(second ? jar.secondWash() : jar);
        }
        return positions;
    }

    Recipe recipe() {
        return job.recipe();
    }

    /** It has begun and has no outcome yet. */
    boolean running() {
        return end == null;
    }

    Step step() {
        return progress.step;
    }

    Bout bout() {
        return recipe().bout(progress.bout);
    }

    private boolean lastBout() {
        return progress.bout == recipe().boutCount() - 1;
    }

    /** The drive asks for the bout's full speed: the ramp up is over, the ramp down not begun. */
    boolean atSpeed(Drive drive) {
        return drive.setpoint_rpm() >= bout().speed_rpm();
    }

    /** How long it has been held, 0 when it is not. */
    long held_ns(long uptime_ns) {
        return pause == null ? 0 : uptime_ns - pause.at_ns;
    }

    boolean boutAgitated() {
        return progress.agitated_ns >= bout().agitation().toNanos();
    }

    /** Every bout and the rest after the last one are over. */
    boolean complete() {
        return progress.step == Step.REST
                && lastBout()
                && progress.rest_ns >= bout().rest().toNanos();
    }

    /** The speed the recipe asks for now; after a hold the shaft climbs its ramp again. */
    double asked_rpm() {
        long climbing_ns = progress.agitated_ns - progress.resumedAt_ns;
        double climbed_rpm = bout().speed_rpm() * bout().rampPart(climbing_ns);
        return Math.min(climbed_rpm, bout().profile_rpm(progress.agitated_ns));
    }

    /** Adds what the time since the last scan brought, with the drive as it was then. */
    Cycle measured(Machine m, Inputs in) {
        if (!running()) {
            return this;
        }
        long elapsed_ns = m.elapsed_ns(in);
        double speed_rpm = m.value(Sensor.TACHOMETER, in);
        boolean driven = m.drive().on();
        boolean resting = !driven && m.state() == State.RUNNING && progress.step != Step.AGITATE;
        Progress now = progress;
        if (driven || resting) {
            now =
                    new Progress(
                            progress.bout,
                            progress.step,
                            progress.agitated_ns + (driven ? elapsed_ns : 0),
                            progress.rest_ns + (resting ? elapsed_ns : 0),
                            progress.resumedAt_ns,
                            progress.begunAt_ns);
        }
        double turned = Double.isNaN(speed_rpm) ? 0 : speed_rpm / 60 * elapsed_ns * 1e-9;
        return new Cycle(
                id,
                continues,
                job,
                startedAt_ns,
                startedAt_ms,
                startSynchronised,
                now,
                driven ? tallied(m, speed_rpm, elapsed_ns, turned) : tally,
                observed(m, in, elapsed_ns, turned),
                trace.until(in.uptime_ns() - startedAt_ns, speed_rpm),
                bouts,
                interruptions,
                pause,
                end);
    }

    private Tally tallied(Machine m, double speed_rpm, long elapsed_ns, double turned) {
        double revolutions = tally.revolutions + turned;
        if (!atSpeed(m.drive())) {
            return new Tally(tally.speed, tally.atSpeed_ns, tally.inBand_ns, revolutions);
        }
        double asked_rpm = bout().speed_rpm();
        double allowed_rpm = recipe().tolerances().speed_fraction() * asked_rpm;
        boolean inBand = Math.abs(speed_rpm - asked_rpm) <= allowed_rpm;
        return new Tally(
                tally.speed.add(speed_rpm),
                tally.atSpeed_ns + elapsed_ns,
                tally.inBand_ns + (inBand ? elapsed_ns : 0),
                revolutions);
    }

    private Facts observed(Machine m, Inputs in, long elapsed_ns, double turned) {
        long period_ns = m.settings().period().toNanos();
        long late_ns = elapsed_ns - period_ns;
        boolean late = late_ns > period_ns;
        return new Facts(
                facts.spirit.add(m.value(Sensor.SPIRIT_TEMPERATURE, in)),
                facts.ambient.add(m.value(Sensor.AMBIENT_TEMPERATURE, in)),
                facts.motor.add(m.value(Sensor.MOTOR_TEMPERATURE, in)),
                facts.supply.add(m.value(Sensor.SUPPLY_VOLTAGE, in)),
                facts.current.add(m.value(Sensor.MOTOR_CURRENT, in)),
                facts.scans + 1,
                facts.lateScans + (late ? 1 : 0),
                late ? Math.max(facts.worstLate_ns, late_ns) : facts.worstLate_ns,
                facts.revolutions + turned,
                facts.finishedAgitation_ns,
                facts.warmAcknowledged || m.memory().warmAcknowledged());
    }

    /**
     * Moves on to the next step of the recipe when this one is over. Only while RUNNING.
     *
     * @param durable the last marker is stored, so the motor may go on
     * @param still the shaft is at rest: it is never turned round while it spins
     * @param lastReverse the way it turned last
     */
    Cycle sequenced(boolean durable, boolean still, boolean lastReverse, long uptime_ns) {
        return switch (progress.step) {
            case WAIT ->
                    durable && (still || bout().reverse() == lastReverse)
                            ? agitating(uptime_ns)
                            : this;
            case AGITATE -> boutAgitated() ? boutOver() : this;
            case REST ->
                    !lastBout() && progress.rest_ns >= bout().rest().toNanos()
                            ? waiting().sequenced(durable, still, lastReverse, uptime_ns)
                            : this;
            case NONE -> this;
        };
    }

    private Cycle agitating(long uptime_ns) {
        Progress next = new Progress(progress.bout, Step.AGITATE, 0, 0, 0, uptime_ns);
        return with(next, Tally.EMPTY, facts, restNoted(), pause);
    }

    private Cycle waiting() {
        Progress next = new Progress(progress.bout + 1, Step.WAIT, 0, progress.rest_ns, 0, 0);
        return with(next, tally, facts, bouts, pause);
    }

    private Cycle boutOver() {
        List<BoutEvidence> done = new ArrayList<>(bouts);
        done.add(boutEvidence());
        Progress next = new Progress(progress.bout, Step.REST, 0, 0, 0, 0);
        return with(next, Tally.EMPTY, finished(progress.agitated_ns), List.copyOf(done), pause);
    }

    private Facts finished(long agitated_ns) {
        return new Facts(
                facts.spirit,
                facts.ambient,
                facts.motor,
                facts.supply,
                facts.current,
                facts.scans,
                facts.lateScans,
                facts.worstLate_ns,
                facts.revolutions,
                facts.finishedAgitation_ns + agitated_ns,
                facts.warmAcknowledged);
    }

    private BoutEvidence boutEvidence() {
        return new BoutEvidence(
                progress.bout + 1,
                bout(),
                Duration.ofNanos(progress.begunAt_ns - startedAt_ns),
                Duration.ofNanos(progress.agitated_ns),
                Duration.ZERO,
                tally.speed,
                Duration.ofNanos(tally.atSpeed_ns),
                Duration.ofNanos(tally.inBand_ns),
                tally.revolutions);
    }

    /** The bouts so far, the last of them with the rest it had. */
    private List<BoutEvidence> restNoted() {
        if (bouts.isEmpty()) {
            return bouts;
        }
        List<BoutEvidence> noted = new ArrayList<>(bouts);
        int last = noted.size() - 1;
        noted.set(last, noted.get(last).rested(Duration.ofNanos(progress.rest_ns)));
        return List.copyOf(noted);
    }

    Cycle paused(String cause, long uptime_ns) {
        return with(progress, tally, facts, bouts, new Pause(cause, uptime_ns));
    }

    /** After a hold the bout goes on with the time it has left. */
    Cycle resumed(long uptime_ns) {
        Progress again =
                new Progress(
                        progress.bout,
                        progress.step,
                        progress.agitated_ns,
                        progress.rest_ns,
                        progress.agitated_ns,
                        progress.begunAt_ns);
        return with(again, tally, facts, bouts, pause).unpaused(uptime_ns);
    }

    private Cycle unpaused(long uptime_ns) {
        if (pause == null) {
            return this;
        }
        List<Interruption> more = new ArrayList<>(interruptions);
        more.add(
                new Interruption(
                        pause.cause,
                        progress.bout + 1,
                        Duration.ofNanos(pause.at_ns - startedAt_ns),
                        Duration.ofNanos(uptime_ns - pause.at_ns)));
        return with(null, List.copyOf(more), end);
    }

    Cycle ended(Outcome outcome, String by, Machine m, Inputs in) {
        long driven_ns = Math.max(startedAt_ns, m.drive().since_ns());
        boolean synchronised = startSynchronised && in.clockSynchronised();
        End how =
                new End(
                        outcome,
                        by,
                        in.uptime_ns(),
                        in.wallClock_ms(),
                        synchronised,
                        driven_ns,
                        List.of(),
                        false);
        Cycle closed = unpaused(in.uptime_ns());
        return closed.with(null, closed.interruptions, how);
    }

    /** After the end: notes each jar's removal, and lets the record go when that is all. */
    Cycle soaking(Memory memory, Settings settings, Inputs in, Choice choice) {
        if (running() || end.recorded) {
            return this;
        }
        List<Soak> soaks = soaks(memory.seenEmpty(), in.uptime_ns());
        boolean all = soaks.size() == job.positions().size();
        boolean jarStays = choice == Choice.SAME_JAR_AGAIN || choice == Choice.SECOND_WASH;
        boolean longEnough = in.uptime_ns() - end.at_ns >= settings.soakLimit().toNanos();
        boolean go = all || jarStays || longEnough || in.closing();
        return !go && soaks == end.soaks ? this : with(soaks, go, in.uptime_ns());
    }

    private List<Soak> soaks(int seenEmpty, long uptime_ns) {
        int noted = 0;
        for (int i = 0; i < end.soaks.size(); i++) {
            noted |= 1 << (end.soaks.get(i).position() - 1);
        }
        int fresh = seenEmpty & job.jars() & ~noted;
        if (fresh == 0) {
            return end.soaks;
        }
        List<Soak> soaks = new ArrayList<>(end.soaks);
        for (Position jar : job.positions()) {
            if ((jar.bit() & fresh) != 0) {
                soaks.add(new Soak(jar.position(), soaked(uptime_ns), true));
            }
        }
        return List.copyOf(soaks);
    }

    private Duration soaked(long uptime_ns) {
        return Duration.ofNanos(uptime_ns - end.lastDriven_ns);
    }

    /** The record leaves now, whatever is known of the jars. */
    Cycle recorded(long uptime_ns) {
        return running() || end.recorded ? this : with(end.soaks, true, uptime_ns);
    }

    private Cycle with(List<Soak> removed, boolean go, long uptime_ns) {
        List<Soak> soaks = new ArrayList<>(removed);
        for (Position jar : job.positions()) {
            boolean known = removed.stream().anyMatch(s -> s.position() == jar.position());
            if (go && !known) {
                soaks.add(new Soak(jar.position(), soaked(uptime_ns), false));
            }
        }
        End noted =
                new End(
                        end.outcome,
                        end.by,
                        end.at_ns,
                        end.at_ms,
                        end.synchronised,
                        end.lastDriven_ns,
                        List.copyOf(soaks),
                        go);
        return with(pause, interruptions, noted);
    }

    private Cycle with(Pause held, List<Interruption> holds, End how) {
        return new Cycle(
                id,
                continues,
                job,
                startedAt_ns,
                startedAt_ms,
                startSynchronised,
                progress,
                tally,
                facts,
                trace,
                bouts,
                holds,
                held,
                how);
    }

    private Cycle with(
            Progress next, Tally figures, Facts whole, List<BoutEvidence> done, Pause held) {
        return new Cycle(
                id,
                continues,
                job,
                startedAt_ns,
                startedAt_ms,
                startSynchronised,
                next,
                figures,
                whole,
                trace,
                done,
                interruptions,
                held,
                end);
    }

    /** All that is known of it at this moment, for a marker or for the record. */
    CycleEvidence evidence(Inputs in) {
        List<BoutEvidence> begun = new ArrayList<>(restNoted());
        if (progress.step == Step.AGITATE) {
            begun = new ArrayList<>(bouts);
            begun.add(boutEvidence());
        }
        boolean over = end != null;
        CycleEvidence evidence =
                new CycleEvidence(
                        id,
                        continues,
                        recipe(),
                        job.positions(),
                        over ? end.outcome : Outcome.UNFINISHED,
                        over ? end.by : null,
                        startedAt_ms,
                        over ? end.at_ms : in.wallClock_ms(),
                        over ? end.synchronised : startSynchronised && in.clockSynchronised(),
                        Duration.ofNanos((over ? end.at_ns : in.uptime_ns()) - startedAt_ns),
                        Duration.ofNanos(facts.finishedAgitation_ns + progress.agitated_ns),
                        facts.revolutions,
                        begun,
                        interruptions,
                        facts.spirit,
                        facts.ambient,
                        facts.motor,
                        facts.supply,
                        facts.current,
                        facts.scans,
                        facts.lateScans,
                        Duration.ofNanos(facts.worstLate_ns),
                        facts.warmAcknowledged,
                        over ? end.soaks : List.of(),
                        List.of(),
                        new CycleEvidence.SpeedPoints(trace.points_rpm()));
        return over ? evidence.judged() : evidence;
    }
}
