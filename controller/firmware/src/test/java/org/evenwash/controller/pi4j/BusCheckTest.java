package org.evenwash.controller.pi4j;

import static org.assertj.core.api.Assertions.assertThat;
import static org.evenwash.controller.pi4j.Finding.Trouble.BUS_MISSING;
import static org.evenwash.controller.pi4j.Finding.Trouble.DEVICE_SILENT;
import static org.evenwash.controller.pi4j.Finding.Trouble.DUPLICATE_DEVICE;
import static org.evenwash.controller.pi4j.Finding.Trouble.PWM_MISSING;
import static org.evenwash.controller.pi4j.Finding.Trouble.TEMPERATURE_IMPLAUSIBLE;
import static org.evenwash.controller.pi4j.Finding.Trouble.TEMPERATURE_MISSING;
import static org.evenwash.controller.pi4j.Finding.Trouble.WRONG_DEVICE;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.evenwash.controller.pi4j.Finding.Trouble;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** On folders and registers that look like the kernel's; the kernel's own are used in the virtual bench. */
class BusCheckTest {
    private static final String SPIRIT = "28-00000000000a";
    private static final String AIR = "28-00000000000b";

    @TempDir private Path folder;
    private Path pwm;
    private Path thermometers;
    private Part part = new Part(true, true);
    private final List<String> shown = new ArrayList<>();

    /** What hangs on the bus at the monitor's address. */
    private static final class Part implements BusCheck.Bus {
        private final int[] registers = {0x4127, 4000, 9600}; // 1 A over 10 mΩ, 12 V
        private final boolean answers;
        private final boolean keepsItsOrder;

        Part(boolean answers, boolean keepsItsOrder) {
            this.answers = answers;
            this.keepsItsOrder = keepsItsOrder;
        }

        @Override
        public int read(int register) {
            answer();
            return registers[register];
        }

        @Override
        public void write(int register, int value) {
            answer();
            if (keepsItsOrder) {
                registers[register] = value;
            }
        }

        private void answer() {
            if (!answers) {
                throw new RegisterBus.BusException("no acknowledge", null);
            }
        }

        @Override
        public void close() {
            // Nothing was opened.
        }
    }

    @BeforeEach
    void everythingInItsPlace() throws IOException {
        pwm = folder.resolve("pwm");
        Path channel = Files.createDirectories(pwm.resolve("pwmchip0/pwm0"));
        Files.writeString(pwm.resolve("pwmchip0/npwm"), "2\n");
        for (String file : List.of("period", "duty_cycle", "enable")) {
            Files.writeString(channel.resolve(file), "0\n");
        }
        Files.writeString(channel.resolve("polarity"), "normal\n");
        thermometers = folder.resolve("w1");
        thermometer(SPIRIT, 18_250);
        thermometer(AIR, 21_500);
    }

    private void thermometer(String id, int milli_C) throws IOException {
        Path device = Files.createDirectories(thermometers.resolve(id));
        Files.writeString(device.resolve("w1_slave"), "crc=e1 YES\nt=" + milli_C + "\n");
    }

    private List<Finding> check(int chip, String spirit, String air) {
        return new BusCheck(
                        new Wiring(
                                PinMap.DEFAULT,
                                new Wiring.Pwm(pwm, chip, 0, 20_000),
                                Wiring.DEFAULT.tachometer(),
                                Wiring.DEFAULT.monitor(),
                                new Wiring.Thermometers(thermometers, "", spirit, air)),
                        (bus, address) -> part,
                        shown::add,
                        length_ms -> {})
                .run();
    }

    private void finds(Trouble trouble, List<Finding> found, String... words) {
        assertThat(found).extracting(Finding::trouble).containsExactly(trouble);
        assertThat(found.get(0).toString()).contains(words);
    }

    @Test
    void everythingInItsPlace_isShownWithWhatItSays_andNothingIsWrong() throws IOException {
        assertThat(check(0, SPIRIT, AIR)).isEmpty();
        assertThat(shown)
                .containsExactly(
                        "Motor PWM: channel 0 of pwmchip0, 20000 Hz, duty 0 %.",
                        "Supply monitor: 12.00 V, 1.00 A.",
                        "Thermometer of the spirit: 18.3 °C.",
                        "Thermometer of the room air: 21.5 °C.");
        assertThat(Files.readString(pwm.resolve("pwmchip0/pwm0/enable")))
                .as("given back switched off")
                .startsWith("0");
    }

    @Test
    void noPwmChannel_saysWhichOverlay() {
        finds(PWM_MISSING, check(3, SPIRIT, AIR), "pwmchip3", "overlay");
    }

    @Test
    void noBus_andNobodyOnTheBus_andAnotherPart_areDifferentSentences() {
        finds(
                BUS_MISSING,
                new BusCheck(
                                new Wiring(
                                        PinMap.DEFAULT,
                                        new Wiring.Pwm(pwm, 0, 0, 20_000),
                                        Wiring.DEFAULT.tachometer(),
                                        new Wiring.Monitor(77, 0x40, 10),
                                        new Wiring.Thermometers(thermometers, "", "", "")),
                                shown::add)
                        .run(),
                "/dev/i2c-77",
                "group 'i2c'");
        part = new Part(false, false);
        finds(DEVICE_SILENT, check(0, SPIRIT, AIR), "0x40", "bus 1", "straps");
        part = new Part(true, false);
        finds(WRONG_DEVICE, check(0, SPIRIT, AIR), "0x40", "parts list");
    }

    @Test
    void monitorThatIsNotFitted_isNotTried() {
        part = new Part(false, false);
        assertThat(
                        new BusCheck(
                                        new Wiring(
                                                PinMap.DEFAULT,
                                                new Wiring.Pwm(pwm, 0, 0, 20_000),
                                                Wiring.DEFAULT.tachometer(),
                                                new Wiring.Monitor(-1, 0, 1),
                                                new Wiring.Thermometers(thermometers, "", "", "")),
                                        (bus, address) -> part,
                                        shown::add,
                                        length_ms -> {})
                                .run())
                .isEmpty();
    }

    @Test
    void thermometerThatIsNotThere_namesTheOthers() {
        finds(TEMPERATURE_MISSING, check(0, "28-gone", AIR), "28-gone", "spirit", SPIRIT, AIR);
    }

    @Test
    void oneThermometerForTwoPlaces_isSaidSo() {
        finds(DUPLICATE_DEVICE, check(0, AIR, AIR), AIR, "spirit", "room air", "hand");
    }

    @Test
    void temperatureThatCannotBe_isSaidSo() throws IOException {
        thermometer(AIR, -55_000);
        finds(TEMPERATURE_IMPLAUSIBLE, check(0, SPIRIT, AIR), AIR, "-55.0 °C");
    }
}
