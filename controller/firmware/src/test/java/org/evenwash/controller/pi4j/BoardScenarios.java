package org.evenwash.controller.pi4j;

import static org.evenwash.controller.pi4j.bench.Claims.close;
import static org.evenwash.controller.pi4j.bench.Claims.same;

import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.locks.LockSupport;
import org.evenwash.controller.pi4j.Finding.Trouble;
import org.evenwash.controller.pi4j.PinMap.Pin;
import org.evenwash.controller.pi4j.bench.Scenarios;
import org.evenwash.controller.pi4j.bench.Wires;
import org.evenwash.controller.process.Contact;
import org.evenwash.controller.process.Outputs;
import org.evenwash.controller.process.Readings;

/** What the unit tests show on tables and folders, shown again on a real kernel: its lines, its PWM tree, its I2C bus. */
public final class BoardScenarios {
    private static final PinMap MAP = PinMap.DEFAULT;
    private static final int HOGGED_LINE = 30;
    private static final Path CHIP = Path.of("/sys/kernel/config/gpio-sim/board");
    private static final Path MONITOR_REGISTERS =
            Path.of("/sys/module/bench_i2c/parameters/registers");
    private static final Path THERMOMETERS = Path.of("/tmp/w1");
    private static final Duration SOON = Duration.ofSeconds(5);

    private final Scenarios scenarios;
    private final Path lines;

    private BoardScenarios(Scenarios scenarios, Path lines) {
        this.scenarios = scenarios;
        this.lines = lines;
    }

    /** Runs them all; the chip must be free. */
    public static void run(Scenarios scenarios, Path lines) {
        new BoardScenarios(scenarios, lines).runAll();
    }

    private void runAll() {
        scenarios.run("board_isRecognised", this::boardIsRecognised);
        scenarios.run("chipOfAnotherName_isSaidSo", this::chipOfAnotherName);
        scenarios.run("everyInput_followsItsWire", this::everyInput);
        scenarios.run("everyOutput_drivesItsWire_andReadsBack", this::everyOutput);
        scenarios.run("lineThatTheKernelHolds_namesItsHolder", this::busyLine);
        scenarios.run("edges_wakeEveryThread", this::edges);
        scenarios.run("pwm_onTheKernelsTree_changesWithoutGap", this::pwm);
        scenarios.run("powerMonitor_onTheKernelsBus_isRead", this::powerMonitor);
        scenarios.run("pwmMonitorAndThermometer_areTriedByTheCheck", this::buses);
        scenarios.run("linesWithoutResistors_areFoundFloating", this::floating);
        scenarios.run("lidAndJarExchanged_areNamed", this::swapped);
        scenarios.run("outputs_areNotTriedWhileTheSupplyIsOn", this::supplyOn);
        scenarios.run("wholeBench_readsDrivesAndCloses", this::wholeBench);
        scenarios.run("closedBench_opensAgain", this::wholeBench);
    }

    private Wires atRest() {
        Wires wires = new Wires(lines);
        for (Pin pin : MAP.pins()) {
            if (pin.signal().kind().isInput()) {
                wires.hold(pin.gpio(), pin.level(pin.signal().activeAtRest()));
            }
        }
        return wires;
    }

    private void boardIsRecognised() {
        LinuxBoard board = new LinuxBoard();
        scenarios.note("board '%s', chips %s".formatted(board.model(), board.chips()));
        same("what is wrong", List.of(), BoardCheck.of(board));
    }

    private void chipOfAnotherName() throws IOException {
        relabel("an-expander");
        try {
            List<Trouble> found =
                    BoardCheck.of(new LinuxBoard()).stream().map(Finding::trouble).toList();
            same("what is wrong", List.of(Trouble.WRONG_CHIP), found);
        } finally {
            relabel("pinctrl-bcm2711");
        }
        same("what is wrong then", List.of(), BoardCheck.of(new LinuxBoard()));
    }

    private static void relabel(String label) throws IOException {
        Files.writeString(CHIP.resolve("live"), "0");
        Files.writeString(CHIP.resolve("bank0/label"), label);
        Files.writeString(CHIP.resolve("live"), "1");
    }

    private void everyInput() {
        try (Lines chip = GpioLines.open();
                Wires wires = new Wires(lines)) {
            for (Pin pin : MAP.pins()) {
                if (pin.signal().kind().isInput()) {
                    Lines.InputLine line = chip.input(pin.gpio(), pin.pull(), "bench");
                    same(
                            pin.signal().title() + " alone",
                            FakeLines.settled(pin.pull()),
                            line.level());
                    for (Level level : List.of(Level.HIGH, Level.LOW, Level.HIGH)) {
                        wires.hold(pin.gpio(), level);
                        same(pin.signal().title(), level, line.level());
                    }
                }
            }
        }
    }

    private void everyOutput() {
        try (Lines chip = GpioLines.open();
                Wires wires = new Wires(lines)) {
            for (Pin pin : MAP.pins()) {
                if (pin.signal().kind() == Signal.Kind.OUTPUT) {
                    Lines.OutputLine line = chip.output(pin.gpio(), Level.LOW, "bench");
                    for (Level level : List.of(Level.LOW, Level.HIGH, Level.LOW)) {
                        line.drive(level);
                        same(pin.signal().title(), level, wires.level(pin.gpio()));
                        same(pin.signal().title() + " read back", level, line.level());
                    }
                }
            }
        }
    }

    private void busyLine() {
        try (Lines chip = GpioLines.open()) {
            same(
                    "trouble",
                    Trouble.BUSY_LINE,
                    refused(() -> chip.input(HOGGED_LINE, Pull.UP, "lid")).trouble());
            String sentence = refused(() -> chip.input(HOGGED_LINE, Pull.UP, "lid")).toString();
            same(sentence, true, sentence.contains("held-by-the-kernel"));
            same(
                    "no such line",
                    Trouble.NO_SUCH_LINE,
                    refused(() -> chip.input(99, Pull.UP, "lid")).trouble());
            chip.output(23, Level.LOW, "first");
            String twice = refused(() -> chip.output(23, Level.LOW, "second")).toString();
            same(twice, true, twice.contains("'first'"));
        }
    }

    private static Finding refused(Runnable attempt) {
        try {
            attempt.run();
        } catch (WiringException e) {
            return e.finding();
        }
        throw new AssertionError("was not refused");
    }

    private void edges() {
        int rounds = 20;
        List<Integer> safety = List.of(5, 6, 13, 19, 26);
        ConcurrentLinkedQueue<Long> delays_ns = new ConcurrentLinkedQueue<>();
        AtomicInteger seen = new AtomicInteger();
        try (Lines chip = GpioLines.open();
                Wires wires = new Wires(lines)) {
            List<LineThread> threads = new ArrayList<>();
            for (int gpio : safety) {
                wires.hold(gpio, Level.HIGH);
                Lines.InputLine line = chip.input(gpio, Pull.DOWN, "bench");
                wires.hold(gpio, Level.HIGH);
                threads.add(
                        LineThread.start(
                                "edge-" + gpio,
                                line,
                                100_000_000L,
                                edge_ns -> {
                                    delays_ns.add(System.nanoTime() - edge_ns);
                                    seen.incrementAndGet();
                                }));
            }
            LockSupport.parkNanos(300_000_000L); // the edges of putting the wires on
            for (int i = 0; i < rounds; i++) {
                for (int gpio : safety) {
                    seen.set(0);
                    wires.hold(gpio, i % 2 == 0 ? Level.LOW : Level.HIGH);
                    Wires.await("edge " + i + " of line " + gpio, SOON, () -> seen.get() >= 1);
                }
            }
            threads.forEach(LineThread::end);
            threads.forEach(LineThread::close);
        }
        long[] sorted = delays_ns.stream().mapToLong(Long::longValue).sorted().toArray();
        scenarios.note(
                "%d edges; kernel stamp to thread, in the emulator: p50 %d µs, max %d µs"
                        .formatted(
                                sorted.length,
                                sorted[sorted.length / 2] / 1000,
                                sorted[sorted.length - 1] / 1000));
    }

    private void pwm() throws IOException {
        Path tree = Path.of("/sys/class/pwm");
        Path channel = tree.resolve("pwmchip0/pwm0");
        try (SysfsPwm slow = SysfsPwm.open(tree, 0, 0, 1_000)) {
            slow.duty(0.9); // longer on than the next period lasts
            close("duty", 0.9, slow.duty(), 1e-9);
            try (SysfsPwm pwm = SysfsPwm.open(tree, 0, 0, 20_000)) {
                for (double duty : new double[] {0.25, 1, 0.333, 0}) {
                    pwm.duty(duty);
                    close("duty", duty, pwm.duty(), 1e-4);
                    same("enabled", "1", Files.readString(channel.resolve("enable")).trim());
                }
                pwm.duty(0.5);
            }
        }
        same("duty after closing", "0", Files.readString(channel.resolve("duty_cycle")).trim());
        same("enabled after closing", "0", Files.readString(channel.resolve("enable")).trim());
        same(
                "no such channel",
                Trouble.PWM_MISSING,
                refused(() -> SysfsPwm.open(tree, 0, 2, 20_000)).trouble());
        same(
                "no such chip",
                Trouble.PWM_MISSING,
                refused(() -> SysfsPwm.open(tree, 7, 0, 20_000)).trouble());
    }

    private void powerMonitor() throws IOException {
        Files.writeString(
                MONITOR_REGISTERS, "16679,-800,9600,0"); // 16679 is 0x4127, as after its power-on
        try (I2cRegisters registers = I2cRegisters.open(1, 0x40)) {
            PowerMonitor monitor = new PowerMonitor(registers, 10);
            same("not told yet", true, Double.isNaN(monitor.supply_V()));
            close("supply", 12, monitor.supply_V(), 1e-9);
            close("current", 0.2, monitor.current_A(), 1e-9);
        }
        try (I2cRegisters nobody = I2cRegisters.open(1, 0x41)) {
            same("nobody at 0x41", true, Double.isNaN(new PowerMonitor(nobody, 10).supply_V()));
        }
        same(
                "no bus 9",
                Trouble.BUS_MISSING,
                refused(() -> I2cRegisters.open(9, 0x40).close()).trouble());
    }

    /** Does at once what it is told, on the simulated wires. */
    private static final class Hand implements CheckProcedure.Builder {
        private final Wires wires;
        private final PinMap wired;
        private Pin moved;

        Hand(Wires wires, PinMap wired) {
            this.wires = wires;
            this.wired = wired;
        }

        @Override
        public void show(String line) {
            System.out.println("  check: " + line);
        }

        @Override
        public void instruct(String what) {
            if (moved == null) {
                moved =
                        wired.pins().stream()
                                .filter(pin -> what.equals("Now " + pin.signal().trial() + "."))
                                .findFirst()
                                .orElseThrow();
                wires.hold(moved.gpio(), moved.level(!moved.signal().activeAtRest()));
            } else {
                wires.hold(moved.gpio(), moved.level(moved.signal().activeAtRest()));
                moved = null;
            }
        }

        @Override
        public boolean confirms(String question) {
            return true;
        }
    }

    private void floating() {
        try (Lines chip = GpioLines.open();
                Wires nothing = new Wires(lines)) {
            List<Finding> found = new CheckProcedure(chip, MAP, new Hand(nothing, MAP)).alone();
            long inputs = MAP.pins().stream().filter(pin -> pin.signal().kind().isInput()).count();
            same(
                    "floating inputs",
                    inputs,
                    found.stream().filter(f -> f.trouble() == Trouble.FLOATING_LINE).count());
            same("other trouble", inputs, (long) found.size());
        }
    }

    private void swapped() {
        PinMap wired =
                MAP.with(new Pin(Signal.LID, 7, Level.HIGH, Pull.DOWN))
                        .with(new Pin(Signal.JAR_1, 6, Level.HIGH, Pull.DOWN));
        try (Lines chip = GpioLines.open();
                Wires wires = atRest()) {
            CheckProcedure check = new CheckProcedure(chip, MAP, new Hand(wires, wired));
            check.alone();
            wires.holdAllAgain();
            List<Finding> found = check.inputs();
            found.forEach(finding -> scenarios.note(finding.toString()));
            same(
                    "troubles",
                    List.of(Trouble.SWAPPED_LINES, Trouble.SWAPPED_LINES),
                    found.stream().map(Finding::trouble).toList());
        }
    }

    private void supplyOn() {
        Pin contactor = MAP.pin(Signal.CONTACTOR).orElseThrow();
        Pin enable = MAP.pin(Signal.DRIVE_ENABLE).orElseThrow();
        try (Lines chip = GpioLines.open();
                Wires wires = atRest()) {
            CheckProcedure check = new CheckProcedure(chip, MAP, new Hand(wires, MAP));
            check.alone();
            wires.holdAllAgain();
            same("with the supply off", List.of(), check.outputs());
            wires.hold(contactor.gpio(), contactor.level(true));
            same(
                    "with the supply on",
                    List.of(Trouble.MOTOR_SUPPLY_ON),
                    check.outputs().stream().map(Finding::trouble).toList());
            same("drive enable", Level.LOW, wires.level(enable.gpio()));
        }
    }

    private static void thermometerAndMonitor() throws IOException {
        Files.createDirectories(THERMOMETERS.resolve("28-0000000000aa"));
        Files.writeString(
                THERMOMETERS.resolve("28-0000000000aa/w1_slave"), "crc=e1 YES\nt=18250\n");
        Files.writeString(MONITOR_REGISTERS, "0,4000,9600,0"); // 1 A over 10 mΩ; 12 V
    }

    private void buses() throws IOException {
        thermometerAndMonitor();
        same("right", List.of(), check(0, 0x40, "28-0000000000aa"));
        same(
                "wrong",
                List.of(Trouble.PWM_MISSING, Trouble.DEVICE_SILENT, Trouble.TEMPERATURE_MISSING),
                check(7, 0x41, "28-gone"));
    }

    private List<Trouble> check(int pwmChip, int address, String spirit) {
        Wiring wiring =
                new Wiring(
                        MAP,
                        new Wiring.Pwm(Path.of("/sys/class/pwm"), pwmChip, 0, 20_000),
                        Wiring.DEFAULT.tachometer(),
                        new Wiring.Monitor(1, address, 10),
                        new Wiring.Thermometers(THERMOMETERS, "", spirit, ""));
        List<Finding> found = new BusCheck(wiring, scenarios::note).run();
        found.forEach(finding -> scenarios.note(finding.toString()));
        return found.stream().map(Finding::trouble).toList();
    }

    private void wholeBench() throws IOException {
        thermometerAndMonitor();
        Wiring wiring =
                new Wiring(
                        MAP,
                        Wiring.DEFAULT.pwm(),
                        new Wiring.Tachometer(4, 600),
                        Wiring.DEFAULT.monitor(),
                        new Wiring.Thermometers(THERMOMETERS, "", "28-0000000000aa", ""));
        AtomicInteger woken = new AtomicInteger();
        try (Wires wires = atRest()) {
            try (Pi4jBench bench = Pi4jBench.open(wiring, woken::incrementAndGet)) {
                wires.holdAllAgain();
                Readings rest = bench.sensors().read(0);
                same(
                        "contacts",
                        List.of(Contact.CLOSED, Contact.CLOSED, Contact.OPEN),
                        List.of(rest.eStop(), rest.lid(), rest.contactor()));
                woken.set(0);
                wires.hold(5, Level.LOW);
                Wires.await("wake by the emergency stop", SOON, () -> woken.get() > 0);
                same("emergency stop", Contact.OPEN, bench.sensors().read(0).eStop());
                Wires.await(
                        "spirit temperature",
                        SOON,
                        () -> bench.sensors().read(0).spirit().value() == 18.25);
                Wires.await(
                        "supply",
                        SOON,
                        () -> Math.abs(bench.sensors().read(0).supply().value() - 12) < 0.01);
                Wires.await(
                        "current",
                        SOON,
                        () -> Math.abs(bench.sensors().read(0).current().value() - 1) < 0.01);
                turn(wires, bench);
                steadyScan(bench);
                bench.actuators()
                        .write(
                                new Outputs(
                                        true, true, false, 0.5, true, false, false, true, false,
                                        false, false));
                same("drive enable", Level.HIGH, wires.level(11));
                same(
                        "duty",
                        "25000",
                        Files.readString(Path.of("/sys/class/pwm/pwmchip0/pwm0/duty_cycle"))
                                .trim());
            }
            same("drive enable after closing", Level.LOW, wires.level(11));
            same(
                    "duty after closing",
                    "0",
                    Files.readString(Path.of("/sys/class/pwm/pwmchip0/pwm0/duty_cycle")).trim());
        }
    }

    /** Two turns a second by hand: 4 pulses a turn, 62.5 ms up and 62.5 ms down. */
    private void turn(Wires wires, Pi4jBench bench) {
        double[] seen_rpm = new double[8];
        long begun_ns = 0;
        for (int pulse = 0; pulse < 4 + seen_rpm.length; pulse++) {
            begun_ns = pulse == 4 ? System.nanoTime() : begun_ns;
            wires.hold(12, Level.LOW);
            LockSupport.parkNanos(62_500_000L);
            wires.hold(12, Level.HIGH);
            LockSupport.parkNanos(62_500_000L);
            if (pulse >= 4) {
                seen_rpm[pulse - 4] = bench.sensors().read(0).shaft().value();
            }
        }
        // The feeding thread is late now and then in the emulator, never early: the speed is at
        // most 120, and about what was really fed.
        double fed_rpm = seen_rpm.length / 4.0 * 60 / ((System.nanoTime() - begun_ns) * 1e-9);
        Arrays.sort(seen_rpm);
        scenarios.note(
                "tachometer fed for %.1f rpm, at most 120, shows a median of %.1f rpm"
                        .formatted(fed_rpm, seen_rpm[4]));
        same(
                "speed " + seen_rpm[4] + " when fed for " + fed_rpm,
                true,
                seen_rpm[4] > fed_rpm * 0.6 && seen_rpm[4] <= 121);
        Wires.await("standing still", SOON, () -> bench.sensors().read(0).shaft().value() == 0);
    }

    /** What one scan's reading and writing costs here; the figure says nothing about a Pi. */
    private void steadyScan(Pi4jBench bench) {
        var memory = (com.sun.management.ThreadMXBean) ManagementFactory.getThreadMXBean();
        long[] spent_ns = new long[200];
        long allocated_bytes = memory.getCurrentThreadAllocatedBytes();
        for (int i = 0; i < spent_ns.length; i++) {
            long begun_ns = System.nanoTime();
            bench.sensors().read(0);
            bench.buttons().pressed();
            bench.actuators().write(Outputs.SAFE);
            spent_ns[i] = System.nanoTime() - begun_ns;
        }
        allocated_bytes =
                (memory.getCurrentThreadAllocatedBytes() - allocated_bytes) / spent_ns.length;
        scenarios.note("allocated by it: %d bytes".formatted(allocated_bytes));
        same(
                "allocated " + allocated_bytes + " bytes, at most 2048",
                true,
                allocated_bytes <= 2048);
        Arrays.sort(spent_ns);
        scenarios.note(
                "reading and writing everything once, in the emulator: p50 %d µs, p99 %d µs"
                        .formatted(spent_ns[100] / 1000, spent_ns[198] / 1000));
    }
}
