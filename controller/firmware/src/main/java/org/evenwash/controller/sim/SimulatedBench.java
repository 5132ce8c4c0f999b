package org.evenwash.controller.sim;

import java.time.Duration;
import java.util.List;
import java.util.UUID;
import org.evenwash.controller.process.Choice;
import org.evenwash.controller.process.Command;
import org.evenwash.controller.process.CycleEvidence;
import org.evenwash.controller.process.Entry;
import org.evenwash.controller.process.Inputs;
import org.evenwash.controller.process.Job;
import org.evenwash.controller.process.Machine;
import org.evenwash.controller.process.OutboxState;
import org.evenwash.controller.process.Outputs;
import org.evenwash.controller.process.ProofRecord;
import org.evenwash.controller.process.Recipe;
import org.evenwash.controller.process.RemoteRequest;
import org.evenwash.controller.process.Sensor;
import org.evenwash.controller.process.Settings;
import org.evenwash.controller.process.State;
import org.evenwash.controller.process.Status;

/**
 * A whole bench in virtual time, told like a story:
 *
 * <pre>{@code
 * var bench = SimulatedBench.running(recipe).advance(ofSeconds(10));
 * bench.openLid().advance(ofSeconds(5));
 * }</pre>
 *
 * Every scan is executed: read, step, write, as the control loop does it.
 */
public final class SimulatedBench {
    private final Settings settings;
    private final SimulatedPlant plant;
    private final SimulatedOutbox outbox = new SimulatedOutbox();
    private final VirtualClock clock = new VirtualClock();
    private Machine machine;
    private Inputs inputs;
    private Outputs outputs = Outputs.SAFE;
    private Job job = Job.NONE;
    private Command command = Command.NONE;
    private Choice choice = Choice.NONE;
    private RemoteRequest remote = RemoteRequest.NONE;
    private UUID nextCycleId = new UUID(1, 1);
    private boolean closing;
    private long scans;

    private SimulatedBench(Settings settings, long seed, ProofRecord proof) {
        this.settings = settings;
        this.plant = new SimulatedPlant(seed);
        this.machine = Machine.boot(settings, proof);
    }

    /** Just switched on: nothing acknowledged, nothing proven, no jar, supply not armed. */
    public static SimulatedBench cold(Settings settings, long seed) {
        return new SimulatedBench(settings, seed, ProofRecord.NEVER).scan();
    }

    /** Ready to start this recipe in every position. */
    public static SimulatedBench ready(Recipe recipe) {
        return ready(Settings.DEFAULTS, Job.of(recipe), 1);
    }

    public static SimulatedBench ready(Settings settings, Job job, long seed) {
        long yesterday_ms = new VirtualClock().wallClock_ms() - Duration.ofDays(1).toMillis();
        ProofRecord proof = ProofRecord.earlier(yesterday_ms, true, 0);
        SimulatedBench bench = new SimulatedBench(settings, seed, proof).scan();
        return bench.advance(Duration.ofMillis(350))
                .load(job)
                .putJarsIn()
                .choose(Choice.ACKNOWLEDGE_CAUTIONS)
                .rearm()
                .advance(Duration.ofMillis(60));
    }

    /** In the first bout of this recipe. */
    public static SimulatedBench running(Recipe recipe) {
        return ready(recipe).start();
    }

    /** Presses START and goes on to the first drive command. */
    public SimulatedBench start() {
        return press(Command.START).scan();
    }

    /** One scan, one period after the last. */
    public SimulatedBench scan() {
        return scanAfter(settings.period().toNanos());
    }

    /** One scan that comes this late after the last one. */
    public SimulatedBench lateScan(Duration sinceLast) {
        return scanAfter(sinceLast.toNanos());
    }

    private SimulatedBench scanAfter(long elapsed_ns) {
        clock.advance(elapsed_ns);
        inputs =
                new Inputs(
                        clock.uptime_ns(),
                        clock.wallClock_ms(),
                        clock.synchronised(),
                        command,
                        choice,
                        remote,
                        plant.read(clock.uptime_ns()),
                        job,
                        nextCycleId,
                        outbox.durable(),
                        outbox.state(),
                        closing);
        machine = Machine.step(machine, inputs);
        outputs = Outputs.of(machine);
        plant.write(outputs);
        List<Entry> entries = machine.entries();
        for (int i = 0; i < entries.size(); i++) {
            outbox.append(entries.get(i));
        }
        if (nextCycleId.equals(machine.cycleId())) {
            nextCycleId = new UUID(1, nextCycleId.getLeastSignificantBits() + 1);
        }
        remote = RemoteRequest.NONE;
        scans++;
        return this;
    }

    /** Lets time pass, scan by scan. */
    public SimulatedBench advance(Duration time) {
        long end_ns = clock.uptime_ns() + time.toNanos();
        while (clock.uptime_ns() < end_ns) {
            scan();
        }
        return this;
    }

    /**
     * Lets time pass until this state is reached.
     *
     * @throws IllegalStateException when it is not reached within {@code atMost}
     */
    public SimulatedBench until(State wanted, Duration atMost) {
        long end_ns = clock.uptime_ns() + atMost.toNanos();
        while (machine.state() != wanted) {
            if (clock.uptime_ns() >= end_ns) {
                throw new IllegalStateException(
                        "still " + machine.state() + " after " + atMost + ", not " + wanted);
            }
            scan();
        }
        return this;
    }

    /** Presses a button for one scan and lets it go. */
    public SimulatedBench press(Command button) {
        command = button;
        scan();
        command = Command.NONE;
        return this;
    }

    /** Keeps a button down until the next press. */
    public SimulatedBench keepDown(Command button) {
        command = button;
        return this;
    }

    public SimulatedBench choose(Choice chosen) {
        choice = chosen;
        scan();
        choice = Choice.NONE;
        return this;
    }

    /** A request from afar, seen by the next scan. */
    public SimulatedBench ask(RemoteRequest request) {
        remote = request;
        return this;
    }

    public SimulatedBench load(Job next) {
        job = next;
        return this;
    }

    public SimulatedBench openLid() {
        plant.lid(false);
        return this;
    }

    public SimulatedBench closeLid() {
        plant.lid(true);
        return this;
    }

    public SimulatedBench pressEStop() {
        plant.pressEStop(true);
        return this;
    }

    public SimulatedBench releaseEStop() {
        plant.pressEStop(false);
        return this;
    }

    /** Presses the reset button of the motor supply, which needs a healthy chain. */
    public SimulatedBench rearm() {
        plant.rearm();
        return this;
    }

    public SimulatedBench putJarsIn() {
        for (int position = 1; position <= settings.positions(); position++) {
            plant.jar(position, true);
        }
        return this;
    }

    public SimulatedBench takeJarsOut() {
        for (int position = 1; position <= settings.positions(); position++) {
            plant.jar(position, false);
        }
        return this;
    }

    /** Opens the lid, takes the jars out, puts the next ones in, closes the lid and re-arms. */
    public SimulatedBench changeJars() {
        Duration aWhile = Duration.ofSeconds(1);
        openLid().advance(aWhile).takeJarsOut().advance(aWhile);
        return putJarsIn().advance(aWhile).closeLid().advance(aWhile).rearm().advance(aWhile);
    }

    public SimulatedBench fail(Sensor sensor, Fault fault) {
        plant.fail(sensor, fault);
        return this;
    }

    public SimulatedBench mend(Sensor sensor) {
        plant.fail(sensor, Fault.NONE);
        return this;
    }

    public SimulatedBench outbox(OutboxState state) {
        outbox.state(state);
        return this;
    }

    public SimulatedBench stallOutbox(boolean stalled) {
        outbox.stall(stalled);
        return this;
    }

    public SimulatedBench jumpWallClock(Duration by) {
        clock.jump(by);
        return this;
    }

    public SimulatedBench clockSynchronised(boolean synchronised) {
        clock.synchronised(synchronised);
        return this;
    }

    /** The program is told to end. */
    public SimulatedBench shutDown() {
        closing = true;
        return this;
    }

    public State state() {
        return machine.state();
    }

    public Machine machine() {
        return machine;
    }

    /** What the last scan saw. */
    public Inputs inputs() {
        return inputs;
    }

    /** What the last scan wrote. */
    public Outputs outputs() {
        return outputs;
    }

    public Status status() {
        return Status.of(machine, inputs);
    }

    public SimulatedPlant plant() {
        return plant;
    }

    public long scans() {
        return scans;
    }

    public List<Entry> entries() {
        return outbox.entries();
    }

    /** Records that have left, in order. */
    public List<CycleEvidence> records() {
        return entries().stream()
                .filter(Entry.CycleFinished.class::isInstance)
                .map(entry -> ((Entry.CycleFinished) entry).evidence())
                .toList();
    }

    /** The one record so far. */
    public CycleEvidence onlyRecord() {
        List<CycleEvidence> all = records();
        if (all.size() != 1) {
            throw new IllegalStateException(all.size() + " records have left, not one");
        }
        return all.get(0);
    }

    public List<Entry.BenchEvent> events() {
        return entries().stream()
                .filter(Entry.BenchEvent.class::isInstance)
                .map(Entry.BenchEvent.class::cast)
                .toList();
    }
}
