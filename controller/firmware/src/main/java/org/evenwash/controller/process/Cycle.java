package org.evenwash.controller.process;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;

/**
 * The cycle under way, or the last one: where in the recipe it is, and all the evidence so far.
 *
 * @param bouts those that are over
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
        CycleEnd end) {

    record Pause(String cause, long at_ns) {}

    static final Cycle NONE =
            new Cycle(
                    new UUID(0, 0),
                    null,
                    Job.NONE,
                    0,
                    0,
                    false,
                    Progress.NONE,
                    Tally.EMPTY,
                    Facts.EMPTY,
                    SpeedTrace.EMPTY,
                    List.of(),
                    List.of(),
                    null,
                    CycleEnd.NEVER_BEGUN);

    static Cycle start(Machine m, Inputs in) {
        Memory memory = m.memory();
        boolean sameJar = memory.said().reuse() == Memory.Reuse.SAME_JAR;
        return new Cycle(
                in.nextCycleId(),
                sameJar ? memory.previous().cycle() : null,
                new Job(in.job().recipe(), memory.whose(in.job()), in.job().flashPoint_C()),
                in.uptime_ns(),
                in.wallClock_ms(),
                in.clockSynchronised(),
                Progress.FIRST,
                Tally.EMPTY,
                Facts.EMPTY,
                SpeedTrace.EMPTY,
                List.of(),
                List.of(),
                null,
                null);
    }

    Recipe recipe() {
        return job.recipe();
    }

    /** It has begun and has no outcome yet. */
    boolean running() {
        return end == null;
    }

    Step step() {
        return progress.step();
    }

    Bout bout() {
        return recipe().bout(progress.bout());
    }

    private boolean lastBout() {
        return progress.bout() == recipe().boutCount() - 1;
    }

    private boolean rested() {
        return progress.rest_ns() >= bout().rest().toNanos();
    }

    boolean boutAgitated() {
        return progress.agitated_ns() >= bout().agitation().toNanos();
    }

    /** Every bout and the rest after the last one are over. */
    boolean complete() {
        return step() == Step.REST && lastBout() && rested();
    }

    /** The drive asks for the bout's full speed: the ramp up is over, the ramp down not begun. */
    boolean atSpeed(Drive drive) {
        return drive.setpoint_rpm() >= bout().speed_rpm();
    }

    /** How long it has been held, 0 when it is not. */
    long held_ns(long uptime_ns) {
        return pause == null ? 0 : uptime_ns - pause.at_ns;
    }

    /** The speed the recipe asks for now; after a hold the shaft climbs its ramp again. */
    double asked_rpm() {
        long climbing_ns = progress.agitated_ns() - progress.resumedAt_ns();
        double climbed_rpm = bout().speed_rpm() * bout().rampPart(climbing_ns);
        return Math.min(climbed_rpm, bout().profile_rpm(progress.agitated_ns()));
    }

    /** Adds what the time since the last scan brought, with the drive as it was then. */
    Cycle measured(Machine m, Inputs in) {
        if (!running()) {
            return this;
        }
        long elapsed_ns = m.elapsed_ns(in);
        double speed_rpm = m.value(Sensor.TACHOMETER, in);
        double turned = Double.isNaN(speed_rpm) ? 0 : speed_rpm / 60 * elapsed_ns * 1e-9;
        boolean driven = m.drive().on();
        boolean resting = !driven && m.state() == State.RUNNING && step() != Step.AGITATE;
        Progress later = resting ? progress.rested(elapsed_ns) : progress;
        return new Cycle(
                id,
                continues,
                job,
                startedAt_ns,
                startedAt_ms,
                startSynchronised,
                driven ? progress.driven(elapsed_ns) : later,
                driven ? tallied(m.drive(), speed_rpm, elapsed_ns, turned) : tally,
                facts.observed(m, in, elapsed_ns, turned),
                trace.until(in.uptime_ns() - startedAt_ns, speed_rpm),
                bouts,
                interruptions,
                pause,
                end);
    }

    private Tally tallied(Drive drive, double speed_rpm, long elapsed_ns, double turned) {
        if (!atSpeed(drive)) {
            return tally.ramped(turned);
        }
        double asked_rpm = bout().speed_rpm();
        double allowed_rpm = recipe().tolerances().speed_fraction() * asked_rpm;
        boolean inBand = Math.abs(speed_rpm - asked_rpm) <= allowed_rpm;
        return tally.atSpeed(speed_rpm, inBand, elapsed_ns, turned);
    }

    /**
     * Moves on to the next step of the recipe when this one is over. Only while RUNNING.
     *
     * @param durable the last marker is stored, so the motor may go on
     * @param still the shaft is at rest: it is never turned round while it spins
     * @param lastReverse the way it turned last
     */
    Cycle sequenced(boolean durable, boolean still, boolean lastReverse, long uptime_ns) {
        return switch (step()) {
            case WAIT ->
                    durable && (still || bout().reverse() == lastReverse)
                            ? agitating(uptime_ns)
                            : this;
            case AGITATE -> boutAgitated() ? boutOver() : this;
            case REST ->
                    rested() && !lastBout()
                            ? moved(progress.waiting(), tally, facts, bouts)
                                    .sequenced(durable, still, lastReverse, uptime_ns)
                            : this;
            case NONE -> this;
        };
    }

    private Cycle agitating(long uptime_ns) {
        return moved(progress.agitating(uptime_ns - startedAt_ns), Tally.EMPTY, facts, restNoted());
    }

    private Cycle boutOver() {
        Facts whole = facts.boutOver(progress.agitated_ns());
        return moved(progress.resting(), Tally.EMPTY, whole, begun());
    }

    /** The bouts that are over, and the one under way. */
    private List<BoutEvidence> begun() {
        List<BoutEvidence> begun = new ArrayList<>(bouts);
        begun.add(tally.evidence(progress, bout()));
        return List.copyOf(begun);
    }

    /** The bouts that are over, the last of them with the rest it had. */
    private List<BoutEvidence> restNoted() {
        if (bouts.isEmpty()) {
            return bouts;
        }
        List<BoutEvidence> noted = new ArrayList<>(bouts);
        int last = noted.size() - 1;
        noted.set(last, noted.get(last).rested(Duration.ofNanos(progress.rest_ns())));
        return List.copyOf(noted);
    }

    private Cycle moved(Progress next, Tally figures, Facts whole, List<BoutEvidence> done) {
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
                pause,
                end);
    }

    Cycle paused(String cause, long uptime_ns) {
        return with(new Pause(cause, uptime_ns), interruptions, end);
    }

    Cycle resumed(long uptime_ns) {
        return moved(progress.resumed(), tally, facts, bouts).unpaused(uptime_ns);
    }

    private Cycle unpaused(long uptime_ns) {
        if (pause == null) {
            return this;
        }
        List<Interruption> more = new ArrayList<>(interruptions);
        more.add(
                new Interruption(
                        pause.cause,
                        progress.bout() + 1,
                        Duration.ofNanos(pause.at_ns - startedAt_ns),
                        Duration.ofNanos(uptime_ns - pause.at_ns)));
        return with(null, List.copyOf(more), end);
    }

    Cycle ended(Outcome outcome, String by, Machine m, Inputs in) {
        CycleEnd how =
                new CycleEnd(
                        outcome,
                        by,
                        in.uptime_ns(),
                        in.wallClock_ms(),
                        startSynchronised && in.clockSynchronised(),
                        Math.max(startedAt_ns, m.drive().since_ns()),
                        List.of(),
                        false);
        Cycle closed = unpaused(in.uptime_ns());
        return closed.with(null, closed.interruptions, how);
    }

    /** After the end: waits for the jars, see {@link CycleEnd#soaking}. */
    Cycle soaking(Memory memory, Settings settings, Inputs in, Choice choice) {
        if (running()) {
            return this;
        }
        CycleEnd now = end.soaking(job, memory, settings, in, choice);
        return now.equals(end) ? this : with(pause, interruptions, now);
    }

    /** The record leaves now, whatever is known of the jars. */
    Cycle recorded(long uptime_ns) {
        return with(pause, interruptions, end.recorded(job, uptime_ns));
    }

    private Cycle with(Pause held, List<Interruption> holds, CycleEnd how) {
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

    /** All that is known of it at this moment, for a marker or for the record. */
    CycleEvidence evidence(Inputs in) {
        boolean over = end != null;
        long until_ns = over ? end.at_ns() : in.uptime_ns();
        CycleEvidence evidence =
                new CycleEvidence(
                        id,
                        continues,
                        recipe(),
                        job.positions(),
                        over ? end.outcome() : Outcome.UNFINISHED,
                        over ? end.by() : null,
                        startedAt_ms,
                        over ? end.at_ms() : in.wallClock_ms(),
                        over ? end.synchronised() : startSynchronised && in.clockSynchronised(),
                        Duration.ofNanos(until_ns - startedAt_ns),
                        Duration.ofNanos(facts.agitated_ns() + progress.agitated_ns()),
                        facts.revolutions(),
                        step() == Step.AGITATE ? begun() : restNoted(),
                        interruptions,
                        facts.spirit(),
                        facts.ambient(),
                        facts.motor(),
                        facts.supply(),
                        facts.current(),
                        facts.scans(),
                        facts.lateScans(),
                        Duration.ofNanos(facts.worstLate_ns()),
                        facts.warmAcknowledged(),
                        over ? end.soaks() : List.of(),
                        List.of(),
                        new CycleEvidence.SpeedPoints(trace.points_rpm()));
        return over ? evidence.judged() : evidence;
    }
}
