package org.evenwash.controller.process;

import static org.evenwash.controller.process.State.HOLDING;
import static org.evenwash.controller.process.State.IDLE;
import static org.evenwash.controller.process.State.RESTARTING;
import static org.evenwash.controller.process.State.RUNNING;
import static org.evenwash.controller.process.State.STOPPING;

import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import org.evenwash.controller.process.Interlock.Kind;
import org.evenwash.controller.sim.SimulatedBench;

/**
 * Keeps its own books of a run, scan by scan, from inputs and outputs alone, and compares: what
 * must hold after every scan, and at the end the records with its own sums.
 */
final class StormLog {
    private static final long SCAN_NS = 10_000_000L;

    /** Its own sums of one cycle. */
    private static final class Sums {
        final UUID cycle;
        long agitation_ns;
        long scans;
        long holds;
        double revolutions;
        CycleEvidence record;

        Sums(UUID cycle) {
            this.cycle = cycle;
        }
    }

    private final SimulatedBench bench;
    private final List<Sums> cycles = new ArrayList<>();
    private final long[] since_ns = new long[Interlocks.count()];
    private Machine before;
    private Outputs written;
    private long uptime_ns;
    private long serial;
    private long eStopFrom_ns = -1;
    private long lidFrom_ns = -1;
    private long complete;

    StormLog(SimulatedBench bench) {
        this.bench = bench;
        this.before = bench.machine();
        this.written = bench.outputs();
        this.uptime_ns = bench.inputs().uptime_ns();
        this.serial = before.journal().count();
        java.util.Arrays.fill(since_ns, -1);
    }

    long started() {
        return cycles.size();
    }

    long complete() {
        return complete;
    }

    /** Call after every scan. */
    void check() {
        Machine after = bench.machine();
        Inputs in = bench.inputs();
        Outputs out = bench.outputs();
        sum(after, in);
        safetyRows(in, out);
        wiredTruth(in, out, after);
        onlyThePanelStarts(after, in);
        entries(after);
        must(!out.driveOn() || mayDrive(after.state()), "drive on in " + after.state());
        must(out.driveOn() || out.duty() == 0, "duty without drive");
        must(out.duty() >= 0 && out.duty() <= 1, "duty " + out.duty());
        boolean beats = out.heartbeat() != written.heartbeat();
        boolean silent = after.proof().step() == ProofTest.Step.STOP_HEARTBEAT;
        must(beats != silent, "heartbeat");
        must(!out.driveOn() || !after.proof().active(), "drive on in a proof test");
        before = after;
        written = out;
        uptime_ns = in.uptime_ns();
    }

    private static boolean mayDrive(State state) {
        return state == RUNNING || state == HOLDING || state == STOPPING;
    }

    /** The row's own condition, timed here: longer than its persistence plus one scan is too long. */
    private void safetyRows(Inputs in, Outputs out) {
        for (int i = 0; i < since_ns.length; i++) {
            Interlock row = Interlocks.row(i);
            if (row.kind() != Kind.SAFETY) {
                continue;
            }
            if (!row.violated().holds(before, in)) {
                since_ns[i] = -1;
                continue;
            }
            since_ns[i] = since_ns[i] < 0 ? in.uptime_ns() : since_ns[i];
            long lasted_ns = in.uptime_ns() - since_ns[i];
            boolean tooLong = lasted_ns > row.persists().toNanos() + SCAN_NS;
            must(!tooLong || !out.driveOn(), row.tag() + " stands and the drive is on");
        }
    }

    /** Not what the sensors say but what is so, where the sensor is sound. */
    private void wiredTruth(Inputs in, Outputs out, Machine after) {
        long now_ns = in.uptime_ns();
        boolean pressed = in.readings().eStop() != Contact.CLOSED;
        eStopFrom_ns = pressed ? (eStopFrom_ns < 0 ? now_ns : eStopFrom_ns) : -1;
        must(!pressed || !out.driveOn(), "emergency stop and drive on");
        must(
                !pressed || !out.supplyPermitted() || after.proof().active(),
                "emergency stop and supply permitted");
        boolean open = !bench.plant().lidShut() && in.readings().lid() == Contact.OPEN;
        lidFrom_ns = open ? (lidFrom_ns < 0 ? now_ns : lidFrom_ns) : -1;
        must(!open || now_ns - lidFrom_ns <= 60_000_000L || !out.driveOn(), "lid open, drive on");
        must(
                !bench.plant().motorPowered() || bench.plant().contactorClosed(),
                "motor powered past an open contactor");
    }

    private void onlyThePanelStarts(Machine after, Inputs in) {
        if (after.state() == RUNNING && before.state() == IDLE) {
            must(in.command() == Command.START, "started by " + in.command());
            must(before.lastCommand() != Command.START, "started by a button held down");
            must(in.readings().lid() == Contact.CLOSED, "started with the lid open");
            must(in.outbox() == OutboxState.WRITABLE, "started without a writable outbox");
        }
        if (after.state() == RESTARTING && before.state() != RESTARTING) {
            must(in.command() == Command.RESTART, "restarted by " + in.command());
        }
        if (!written.driveOn() && bench.outputs().driveOn()) {
            must(after.state() == RUNNING, "drive came on in " + after.state());
            must(in.durable() >= before.journal().awaited(), "drive before its marker is durable");
        }
    }

    private void sum(Machine after, Inputs in) {
        Sums now = cycles.isEmpty() ? null : cycles.get(cycles.size() - 1);
        if (before.cycle().running() && now != null) {
            long elapsed_ns = Math.max(0, in.uptime_ns() - uptime_ns);
            now.scans++;
            now.agitation_ns += written.driveOn() ? elapsed_ns : 0;
            Reading shaft = in.readings().shaft();
            if (shaft.usable(Sensor.TACHOMETER, in.uptime_ns())) {
                now.revolutions += shaft.value() * elapsed_ns / 60e9;
            }
            now.holds += before.state() == RUNNING && after.state() == HOLDING ? 1 : 0;
        }
    }

    private void entries(Machine after) {
        for (Entry entry : after.entries()) {
            must(entry.serial() == ++serial, "serial " + entry.serial() + " after " + (serial - 1));
            if (entry instanceof Entry.CycleStarted started) {
                cycles.add(new Sums(started.soFar().cycleId()));
            } else if (entry instanceof Entry.CycleFinished finished) {
                finished(finished.evidence());
            }
        }
    }

    private void finished(CycleEvidence record) {
        Sums mine = null;
        for (Sums sums : cycles) {
            mine = sums.cycle.equals(record.cycleId()) ? sums : mine;
        }
        must(mine != null, "a record of no cycle");
        must(mine.record == null, "two records of one cycle");
        mine.record = record;
        complete += record.outcome() == Outcome.COMPLETE ? 1 : 0;
        must(record.outcome() != Outcome.UNFINISHED, "a record without an outcome");
        same("agitation", record.agitation().toNanos(), mine.agitation_ns);
        same("scans", record.scans(), mine.scans);
        same("holds", record.interruptions().size(), mine.holds);
        must(Math.abs(record.revolutions() - mine.revolutions) < 1e-6, "revolutions");
        long bouts_ns = record.bouts().stream().mapToLong(b -> b.agitation().toNanos()).sum();
        same("agitation of the bouts", bouts_ns, mine.agitation_ns);
        must(
                !record.conforms() || record.outcome() == Outcome.COMPLETE,
                "conforms, yet not complete");
    }

    private static void same(String what, long recorded, long summed) {
        must(recorded == summed, what + ": recorded " + recorded + ", summed " + summed);
    }

    void checkAtTheEnd() {
        must(!bench.machine().cycle().running(), "still in " + bench.state());
        for (Sums sums : cycles) {
            must(sums.record != null, "no record of cycle " + sums.cycle);
        }
        must(!bench.outputs().driveOn(), "drive on at the end");
    }

    private static void must(boolean holds, String otherwise) {
        if (!holds) {
            throw new AssertionError(otherwise);
        }
    }
}
