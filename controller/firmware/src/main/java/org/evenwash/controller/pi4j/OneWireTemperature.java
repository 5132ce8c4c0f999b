package org.evenwash.controller.pi4j;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.evenwash.controller.pi4j.Finding.Trouble;

/**
 * One digital thermometer on the 1-wire bus, read through the kernel's {@code w1_slave} file:
 *
 * <pre>
 * 4b 01 4b 46 7f ff 05 10 e1 : crc=e1 YES
 * 4b 01 4b 46 7f ff 05 10 e1 t=20687
 * </pre>
 *
 * Reading starts a conversion and takes about 750 ms, so it belongs on a thread of its own, never in the scan.
 */
final class OneWireTemperature {
    private static final Pattern CHECKED = Pattern.compile("crc=[0-9a-f]{2} YES");
    private static final Pattern MILLIDEGREES = Pattern.compile("t=(-?\\d+)");
    private static final String FAMILY_OF_THERMOMETERS = "28-";

    /** What the part holds before its first conversion, exactly; a true 85 °C is far beyond a wash bench. */
    private static final int POWER_ON_VALUE_m_C = 85_000;

    private final Path devices;
    private final String id;

    /**
     * @param devices usually {@code /sys/bus/w1/devices}
     * @param id the part's own number, as in {@code 28-0123456789ab}
     */
    OneWireTemperature(Path devices, String id) {
        this.devices = devices;
        this.id = id;
    }

    /** The temperature in °C; NaN when the part is silent, its checksum is wrong, or it has not converted yet. */
    double read_C() {
        String text;
        try {
            text = Files.readString(devices.resolve(id).resolve("w1_slave"));
        } catch (IOException e) {
            return Double
                    .NaN; // unplugged: the reading grows stale and the interlock names the sensor
        }
        Matcher value = MILLIDEGREES.matcher(text);
        if (!CHECKED.matcher(text).find() || !value.find()) {
            return Double.NaN;
        }
        int milli = Integer.parseInt(value.group(1));
        return milli == POWER_ON_VALUE_m_C ? Double.NaN : milli / 1000.0;
    }

    /** The numbers of all thermometers on the bus. */
    static List<String> found(Path devices) {
        if (!Files.isDirectory(devices)) {
            return List.of();
        }
        try (Stream<Path> all = Files.list(devices)) {
            return all.map(file -> file.getFileName().toString())
                    .filter(name -> name.startsWith(FAMILY_OF_THERMOMETERS))
                    .sorted()
                    .toList();
        } catch (IOException e) {
            return List.of();
        }
    }

    /** What the check says when this one is not there. */
    Finding missing(String purpose) {
        List<String> others = found(devices);
        return new Finding(
                Trouble.TEMPERATURE_MISSING,
                "The thermometer '%s' for the %s gives no reading; on the bus are %s."
                        .formatted(
                                id, purpose, others.isEmpty() ? "none" : String.join(", ", others)),
                others.isEmpty()
                        ? "Load the device-tree overlay 'w1-gpio', check the 4.7 kΩ resistor from data to 3.3 V and the three wires."
                        : "Write the number that its label or a warm hand shows into the configuration.");
    }

    /** What the check says when one number stands for two places. */
    static Finding twice(String id, String place, String otherPlace) {
        return new Finding(
                Trouble.DUPLICATE_DEVICE,
                "The thermometer '%s' is named for the %s and for the %s, and can be in one place only."
                        .formatted(id, place, otherPlace),
                "Warm one thermometer with a hand, see which number changes, and correct the configuration.");
    }

    /** What the check says when it reads what a bench in a room cannot have. */
    Finding implausible(String purpose, double now_C) {
        return new Finding(
                Trouble.TEMPERATURE_IMPLAUSIBLE,
                String.format(
                        Locale.ROOT,
                        "The thermometer '%s' for the %s reads %.1f °C, which no bench in a room has.",
                        id,
                        purpose,
                        now_C),
                "Check its place and its three wires; exchange the part if it stays.");
    }
}
