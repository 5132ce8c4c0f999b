package org.evenwash.controller.pi4j;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.concurrent.atomic.AtomicInteger;
import org.awaitility.Awaitility;
import org.evenwash.controller.process.Command;
import org.evenwash.controller.process.Contact;
import org.evenwash.controller.process.Outputs;
import org.evenwash.controller.process.Readings;
import org.evenwash.controller.process.Sensor;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The adapters together, on a table of levels and plain folders; the same on a real kernel is in the virtual bench. */
class Pi4jBenchTest {
    private static final PinMap MAP = PinMap.DEFAULT;

    @TempDir private Path folder;
    private final FakeLines lines = FakeLines.atRest(MAP);
    private final AtomicInteger woken = new AtomicInteger();
    private Pi4jBench bench;

    @BeforeEach
    void open() throws IOException {
        Path channel = Files.createDirectories(folder.resolve("pwm/pwmchip0/pwm0"));
        Files.writeString(folder.resolve("pwm/pwmchip0/npwm"), "1\n");
        for (String file : new String[] {"period", "duty_cycle", "enable"}) {
            Files.writeString(channel.resolve(file), "0\n");
        }
        Path part = Files.createDirectories(folder.resolve("w1/28-0000000000aa"));
        Files.writeString(part.resolve("w1_slave"), "crc=e1 YES\nt=21500\n");
        bench = Pi4jBench.on(lines, wiring(), woken::incrementAndGet);
    }

    @AfterEach
    void close() {
        bench.close();
    }

    private Wiring wiring() {
        return new Wiring(
                MAP,
                new Wiring.Pwm(folder.resolve("pwm"), 0, 0, 20_000),
                new Wiring.Tachometer(4, 600),
                new Wiring.Monitor(-1, 0, 10),
                new Wiring.Thermometers(folder.resolve("w1"), "", "28-0000000000aa", ""));
    }

    private Level driven(Signal signal) {
        return lines.driven(MAP.pin(signal).orElseThrow().gpio());
    }

    private String duty() throws IOException {
        return Files.readString(folder.resolve("pwm/pwmchip0/pwm0/duty_cycle"))
                .lines()
                .findFirst()
                .orElseThrow();
    }

    @Test
    void fitted_isWhatTheWiresGive() {
        assertThat(wiring().fitted())
                .contains(Sensor.GUARD, Sensor.DRIVER, Sensor.SPIRIT_TEMPERATURE)
                .doesNotContain(Sensor.SUPPLY_VOLTAGE, Sensor.MOTOR_TEMPERATURE);
    }

    @Test
    void opened_drivesEveryOutputOff() throws IOException {
        for (PinMap.Pin pin : MAP.pins()) {
            if (pin.signal().kind() == Signal.Kind.OUTPUT) {
                assertThat(lines.driven(pin.gpio()))
                        .as(pin.signal().title())
                        .isEqualTo(pin.level(false));
            }
        }
        assertThat(duty()).isEqualTo("0");
    }

    @Test
    void benchAtRest_readsAsAtRest_withTheContactorOpen() {
        Readings now = bench.sensors().read(0);
        assertThat(now.eStop()).isEqualTo(Contact.CLOSED);
        assertThat(now.lid()).isEqualTo(Contact.CLOSED);
        assertThat(now.guard()).isEqualTo(Contact.CLOSED);
        assertThat(now.driver()).isEqualTo(Contact.CLOSED);
        assertThat(now.contactor()).isEqualTo(Contact.OPEN);
        assertThat(now.jarsPresent()).isEqualTo(1);
        assertThat(now.jarsUnread()).as("positions without a contact").isEqualTo(0xFE);
    }

    @Test
    void everyWireCut_readsAsUnsafe() {
        for (PinMap.Pin pin : MAP.pins()) {
            lines.cut(pin.gpio());
        }
        Readings now = bench.sensors().read(0);
        assertThat(now.eStop()).isEqualTo(Contact.OPEN);
        assertThat(now.lid()).isEqualTo(Contact.OPEN);
        assertThat(now.guard()).isEqualTo(Contact.OPEN);
        assertThat(now.driver()).isEqualTo(Contact.OPEN);
        assertThat(now.contactor()).as("as if welded").isEqualTo(Contact.CLOSED);
        assertThat(now.jarsPresent()).isZero();
        assertThat(bench.buttons().pressed().command())
                .as("as if STOP were pressed")
                .isEqualTo(Command.STOP);
    }

    @Test
    void lineThatCannotBeRead_isMissing_andTheOthersAreStillRead() {
        lines.fail(MAP.pin(Signal.LID).orElseThrow().gpio());
        Readings now = bench.sensors().read(0);
        assertThat(now.lid()).isEqualTo(Contact.MISSING);
        assertThat(now.eStop()).isEqualTo(Contact.CLOSED);
    }

    @Test
    void edgeOfASafetyContact_wakesTheScan() {
        lines.edge(MAP.pin(Signal.E_STOP).orElseThrow().gpio(), 1);
        Awaitility.await().until(() -> woken.get() == 1);
    }

    @Test
    void pulses_becomeASpeed_thatIsAsFreshAsTheCounter() {
        int gpio = MAP.pin(Signal.TACHOMETER).orElseThrow().gpio();
        // Four pulses a turn; an interval of 125 ms is two turns a second. The last is ahead of
        // now, so that the time
        // this test takes does not look like a slowing shaft.
        long now_ns = System.nanoTime() + 60_000_000_000L;
        for (int i = 8; i >= 0; i--) {
            lines.edge(gpio, now_ns - i * 125_000_000L);
        }
        Awaitility.await().until(() -> bench.sensors().read(0).shaft().value() > 0);
        assertThat(bench.sensors().read(0).shaft().value()).isCloseTo(120, within(0.001));
        long uptime_ns = 77_000_000_000L;
        long age_ns = uptime_ns - bench.sensors().read(uptime_ns).shaft().taken_ns();
        assertThat(age_ns).isBetween(0L, Sensor.TACHOMETER.longestSilence().toNanos());
    }

    @Test
    void thermometer_isReadBesideTheScan() {
        Awaitility.await().until(() -> bench.sensors().read(0).spirit().value() == 21.5);
        assertThat(bench.sensors().read(0).motor().value()).as("not fitted").isNaN();
    }

    @Test
    void drive_comesOnWithDirectionAndDuty_andGoesOffAtOnce() throws IOException {
        bench.actuators()
                .write(
                        new Outputs(
                                true, true, true, 0.25, true, false, false, true, false, false,
                                false));
        assertThat(driven(Signal.SUPPLY_PERMIT)).isEqualTo(Level.HIGH);
        assertThat(driven(Signal.DRIVE_ENABLE)).isEqualTo(Level.HIGH);
        assertThat(driven(Signal.DRIVE_REVERSE)).isEqualTo(Level.HIGH);
        assertThat(driven(Signal.HEARTBEAT)).isEqualTo(Level.HIGH);
        assertThat(driven(Signal.LAMP_GREEN)).isEqualTo(Level.HIGH);
        assertThat(duty()).isEqualTo("12500");
        bench.actuators().write(Outputs.SAFE);
        assertThat(driven(Signal.DRIVE_ENABLE)).isEqualTo(Level.LOW);
        assertThat(driven(Signal.SUPPLY_PERMIT)).isEqualTo(Level.LOW);
        assertThat(duty()).isEqualTo("0");
    }

    @Test
    void lineHeldByAnotherProgram_isSaidSo_andNothingStaysOpen() {
        FakeLines others = FakeLines.atRest(MAP);
        others.occupy(6, "w1-gpio");
        assertThatThrownBy(() -> Pi4jBench.on(others, wiring(), () -> {}))
                .isInstanceOf(WiringException.class)
                .hasMessageContaining("GPIO6")
                .hasMessageContaining("w1-gpio");
    }
}
