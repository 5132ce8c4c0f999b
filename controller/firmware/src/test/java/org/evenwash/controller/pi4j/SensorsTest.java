package org.evenwash.controller.pi4j;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class SensorsTest {
    @TempDir private Path devices;

    private OneWireTemperature thermometer(String text) throws IOException {
        Path folder = Files.createDirectories(devices.resolve("28-0123456789ab"));
        Files.writeString(folder.resolve("w1_slave"), text);
        return new OneWireTemperature(devices, "28-0123456789ab");
    }

    @Test
    void temperatureWithGoodChecksum_isRead() throws IOException {
        // The example of the kernel's documentation, Documentation/w1/slaves/w1_therm.rst (from
        // memory).
        var text = "4b 01 4b 46 7f ff 05 10 e1 : crc=e1 YES\n4b 01 4b 46 7f ff 05 10 e1 t=20687\n";
        assertThat(thermometer(text).read_C()).isEqualTo(20.687);
    }

    @Test
    void belowZero_isRead() throws IOException {
        assertThat(thermometer("crc=e1 YES\nt=-1500\n").read_C()).isEqualTo(-1.5);
    }

    @Test
    void wrongChecksum_powerOnValue_andGarbage_areNoReading() throws IOException {
        assertThat(thermometer("crc=e1 NO\nt=20687\n").read_C()).isNaN();
        assertThat(thermometer("crc=e1 YES\nt=85000\n").read_C()).isNaN();
        assertThat(thermometer("").read_C()).isNaN();
    }

    @Test
    void unplugged_isNoReading_andTheFindingListsTheOthers() throws IOException {
        var gone = new OneWireTemperature(devices, "28-gone");
        assertThat(gone.read_C()).isNaN();
        assertThat(gone.missing("spirit").toString()).contains("28-gone", "none", "4.7 kΩ");
        thermometer("crc=e1 YES\nt=20687\n");
        assertThat(gone.missing("spirit").toString()).contains("28-0123456789ab");
    }

    /** Three registers, as the class describes the part. */
    private static final class FakeMonitor implements RegisterBus {
        private final int[] registers = {0x4127, 0, 0};
        private boolean unplugged;

        @Override
        public int read(int register) {
            answer();
            return registers[register];
        }

        @Override
        public void write(int register, int value) {
            answer();
            registers[register] = value;
        }

        private void answer() {
            if (unplugged) {
                throw new BusException("no acknowledge", null);
            }
        }
    }

    @Test
    void supplyAndCurrent_areTheRegistersInTheirSteps() {
        var part = new FakeMonitor();
        var monitor = new PowerMonitor(part, 10);
        assertThat(monitor.supply_V()).as("before it was told how to measure").isNaN();
        part.registers[PowerMonitor.BUS] = 9600; // 12 V in steps of 1.25 mV
        part.registers[PowerMonitor.SHUNT] = 4000; // 10 mV in steps of 2.5 µV: 1 A over 10 mΩ
        assertThat(monitor.supply_V()).isCloseTo(12, within(1e-9));
        assertThat(monitor.current_A()).isCloseTo(1, within(1e-9));
    }

    @Test
    void shuntTheWrongWayRound_showsTheSameCurrent() {
        var part = new FakeMonitor();
        var monitor = new PowerMonitor(part, 10);
        assertThat(monitor.current_A()).isNaN();
        part.registers[PowerMonitor.SHUNT] = -4000 & 0xFFFF;
        assertThat(monitor.current_A()).isCloseTo(1, within(1e-9));
    }

    @Test
    void partThatLostItsSupply_isToldAgain_andNotBelievedMeanwhile() {
        var part = new FakeMonitor();
        var monitor = new PowerMonitor(part, 10);
        assertThat(monitor.supply_V()).isNaN();
        assertThat(monitor.supply_V()).isZero();
        part.registers[PowerMonitor.CONFIGURATION] = 0x4127;
        assertThat(monitor.supply_V()).isNaN();
        assertThat(part.registers[PowerMonitor.CONFIGURATION]).isEqualTo(PowerMonitor.ORDER);
    }

    @Test
    void unpluggedMonitor_isNoReading() {
        var part = new FakeMonitor();
        part.unplugged = true;
        assertThat(new PowerMonitor(part, 10).supply_V()).isNaN();
        assertThat(new PowerMonitor(part, 10).current_A()).isNaN();
    }
}
