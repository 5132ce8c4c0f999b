package org.evenwash.controller;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.sun.management.ThreadMXBean;
import java.lang.management.ManagementFactory;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.evenwash.controller.port.Actuators;
import org.evenwash.controller.port.Clock;
import org.evenwash.controller.port.Publisher;
import org.evenwash.controller.port.Sensors;
import org.evenwash.controller.process.Choice;
import org.evenwash.controller.process.Command;
import org.evenwash.controller.process.Machine;
import org.evenwash.controller.process.Outputs;
import org.evenwash.controller.process.ProofRecord;
import org.evenwash.controller.process.Recipes;
import org.evenwash.controller.process.RemoteRequest;
import org.evenwash.controller.process.Settings;
import org.evenwash.controller.process.State;
import org.evenwash.controller.process.Status;
import org.evenwash.controller.sim.SimulatedOutbox;
import org.evenwash.controller.sim.SimulatedPlant;
import org.evenwash.controller.sim.VirtualClock;
import org.junit.jupiter.api.Test;

class ControlLoopTest {
    private static final long PERIOD_NS = TimeUnit.MILLISECONDS.toNanos(10);

    private final VirtualClock clock = new VirtualClock();
    private final SimulatedPlant plant = new SimulatedPlant(1);
    private final Desk desk =
            new Desk("bench-1", Settings.DEFAULTS, Recipes.TWO_MINUTES_IN_THREE_BOUTS);
    private final List<State> shown = new ArrayList<>();
    private final LocalPanel panel =
            new LocalPanel(desk, null, status -> shown.add(status.state()));
    private final SimulatedOutbox outbox = new SimulatedOutbox();

    @Test
    void steadyScan_allocatesLessThanTwoKibibytes() {
        ControlLoop loop = loop(plant, plant, clock);
        makeReady(loop);
        panel.press(Command.START);
        scans(loop, 1_000);
        assertThat(shown).contains(State.RUNNING);
        ThreadMXBean threads = (ThreadMXBean) ManagementFactory.getThreadMXBean();
        long me = Thread.currentThread().getId();

        // Warm code first: the measure is of a bench that has run for a while.
        scans(loop, 1_000);
        long before_bytes = threads.getThreadAllocatedBytes(me);
        int count = 1_000;
        scans(loop, count);
        long perScan_bytes = (threads.getThreadAllocatedBytes(me) - before_bytes) / count;

        System.out.println("A steady scan with its panel allocates " + perScan_bytes + " bytes.");
        assertThat(perScan_bytes).isLessThan(2_048);
    }

    @Test
    void outputThatCannotBeWritten_endsTheLoopWithEverythingOff() {
        List<Outputs> written = new ArrayList<>();
        Actuators broken =
                outputs -> {
                    written.add(outputs);
                    if (outputs.supplyPermitted()) {
                        throw new IllegalStateException("the supply permit cannot be written");
                    }
                };
        ControlLoop loop = loop(plant, broken, clock);

        assertThatThrownBy(loop::run).hasMessageContaining("supply permit");
        assertThat(written.get(written.size() - 1)).isEqualTo(Outputs.SAFE);
        assertThat(loop.ended()).isTrue();
        assertThat(loop.cause()).isNotNull();
    }

    /** What the watchdog looks at: a scan that does not come back from a sensor is not counted. */
    @Test
    void scanThatHangs_isNotCounted() {
        ControlLoop[] self = new ControlLoop[1];
        List<Long> whileReading = new ArrayList<>();
        Sensors slow =
                now_ns -> {
                    whileReading.add(self[0].scans());
                    return plant.read(now_ns);
                };
        self[0] = loop(slow, plant, clock);
        scans(self[0], 3);

        assertThat(whileReading).containsExactly(0L, 1L, 2L);
        assertThat(self[0].scans()).isEqualTo(3);
    }

    @Test
    void pressesInARow_areEachSeenOnce_withALetGoBetween() {
        panel.press(Command.RESET);
        panel.press(Command.RESET);

        assertThat(panel.pressed().command()).isEqualTo(Command.RESET);
        assertThat(panel.pressed().command()).isEqualTo(Command.NONE);
        assertThat(panel.pressed().command()).isEqualTo(Command.RESET);
        assertThat(panel.pressed().command()).isEqualTo(Command.NONE);
        assertThat(panel.pressed().command()).isEqualTo(Command.NONE);
    }

    @Test
    void deadlines_stayOnTheirGrid_afterALateScan() {
        List<Long> scannedAt_ns = new ArrayList<>();
        long late_ns = 37_000_000;
        Sensors sensors =
                now_ns -> {
                    scannedAt_ns.add(now_ns);
                    if (scannedAt_ns.size() == 3) {
                        clock.advance(late_ns);
                    }
                    return plant.read(now_ns);
                };
        ControlLoop[] self = new ControlLoop[1];
        ControlLoop.Pace pace =
                (now_ns, deadline_ns) -> {
                    clock.advance(deadline_ns - now_ns);
                    if (scannedAt_ns.size() == 6) {
                        self[0].close();
                    }
                };
        self[0] = new ControlLoop(machine(), ports(sensors, plant, clock), pace);
        self[0].run();

        assertThat(scannedAt_ns.subList(0, 5))
                .containsExactly(0L, PERIOD_NS, 2 * PERIOD_NS, 6 * PERIOD_NS, 7 * PERIOD_NS);
    }

    @Test
    void edge_wakesTheScanAtOnce_andTheGridStays() {
        List<Long> scannedAt_ns = new ArrayList<>();
        Sensors sensors =
                now_ns -> {
                    scannedAt_ns.add(now_ns);
                    return plant.read(now_ns);
                };
        ControlLoop[] self = new ControlLoop[1];
        long edgeAfter_ns = 2_000_000;
        ControlLoop.Pace pace =
                (now_ns, deadline_ns) -> {
                    if (scannedAt_ns.size() == 3 && now_ns == 2 * PERIOD_NS) {
                        clock.advance(edgeAfter_ns);
                        self[0].wake();
                        return;
                    }
                    clock.advance(deadline_ns - now_ns);
                    if (scannedAt_ns.size() == 6) {
                        self[0].close();
                    }
                };
        self[0] = new ControlLoop(machine(), ports(sensors, plant, clock), pace);
        self[0].run();

        assertThat(scannedAt_ns.subList(0, 5))
                .containsExactly(
                        0L, PERIOD_NS, 2 * PERIOD_NS, 2 * PERIOD_NS + edgeAfter_ns, 3 * PERIOD_NS);
    }

    private void makeReady(ControlLoop loop) {
        scans(loop, 100);
        panel.act(() -> plant.jar(1, true));
        panel.act(plant::rearm);
        panel.choose(Choice.ACKNOWLEDGE_CAUTIONS);
        scans(loop, 100);
    }

    private void scans(ControlLoop loop, int count) {
        for (int i = 0; i < count; i++) {
            clock.advance(PERIOD_NS);
            loop.scan(clock.uptime_ns());
        }
    }

    private ControlLoop loop(Sensors sensors, Actuators actuators, Clock time) {
        return new ControlLoop(
                machine(), ports(sensors, actuators, time), (now_ns, deadline_ns) -> {});
    }

    private Machine machine() {
        long yesterday_ms = clock.wallClock_ms() - Duration.ofDays(1).toMillis();
        return Machine.boot(Settings.DEFAULTS, ProofRecord.earlier(yesterday_ms, true, 0));
    }

    private ControlLoop.Ports ports(Sensors sensors, Actuators actuators, Clock time) {
        Publisher nobody =
                new Publisher() {
                    @Override
                    public void state(Status status) {
                        assertThat(status).isNotNull();
                    }

                    @Override
                    public void live(Status status) {
                        assertThat(status.cycleId()).isNotNull();
                    }
                };
        return new ControlLoop.Ports(
                time, sensors, actuators, panel, cycle -> RemoteRequest.NONE, outbox, nobody);
    }
}
