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

    /** Two registers and four inputs, as the class describes the part. */
    private static final class FakeConverter implements RegisterBus {
        private final double[] volts = new double[4];
        private int configuration = Converter.START_OR_READY;
        private int notReadyFor;
        private boolean unplugged;

        @Override
        public int read(int register) {
            answer();
            if (register == Converter.CONFIGURATION) {
                return notReadyFor-- > 0
                        ? configuration & ~Converter.START_OR_READY
                        : configuration;
            }
            int channel = (configuration >> 12 & 7) - 4;
            return (int) Math.round(volts[channel] / 4.096 * 32_768) & 0xFFFF;
        }

        @Override
        public void write(int register, int value) {
            answer();
            assertThat(register).isEqualTo(Converter.CONFIGURATION);
            configuration = value;
        }

        private void answer() {
            if (unplugged) {
                throw new BusException("no acknowledge", null);
            }
        }
    }

    @Test
    void eachChannel_isConvertedByItself() {
        var part = new FakeConverter();
        part.volts[0] = 1.5;
        part.volts[3] = -0.25;
        var converter = new Converter(part);
        assertThat(converter.read_V(0)).isCloseTo(1.5, within(0.0002));
        assertThat(converter.read_V(3)).isCloseTo(-0.25, within(0.0002));
    }

    @Test
    void slowConversion_isWaitedFor_butNotForEver() {
        var part = new FakeConverter();
        part.volts[1] = 1;
        part.notReadyFor = 2;
        var converter = new Converter(part);
        assertThat(converter.read_V(1)).isCloseTo(1, within(0.0002));
        part.notReadyFor = Integer.MAX_VALUE;
        assertThat(converter.read_V(1)).isNaN();
    }

    @Test
    void unpluggedConverter_isNoReading() {
        var part = new FakeConverter();
        part.unplugged = true;
        assertThat(new Converter(part).read_V(0)).isNaN();
    }
}
