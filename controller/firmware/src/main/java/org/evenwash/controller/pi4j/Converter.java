package org.evenwash.controller.pi4j;

import java.util.concurrent.locks.LockSupport;
import org.evenwash.controller.pi4j.Finding.Trouble;

/**
 * A four-channel, 16-bit analogue-to-digital converter of the common class with two registers that matter:
 *
 * <pre>
 * register 0  conversion     signed, full scale = 32768
 * register 1  configuration  15 start / ready · 14..12 channel (4..7 = input 0..3 against ground) · 11..9 range
 *                            8 single conversion · 7..5 rate · 4..0 comparator (3 = off)
 * </pre>
 *
 * Range 1 is ±4.096 V, rate 4 is 128 conversions a second. The inputs must stay within the converter's own supply: dividers
 * and the current amplifier are chosen so that the largest value gives less than 3.3 V.
 */
final class Converter {
    static final int CONVERSION = 0;
    static final int CONFIGURATION = 1;

    static final int START_OR_READY = 1 << 15;
    private static final int AGAINST_GROUND = 4;
    private static final int CHANNEL_SHIFT = 12;
    private static final int RANGE_4096_mV = 1 << 9;
    private static final int SINGLE = 1 << 8;
    private static final int RATE_128_PER_S = 4 << 5;
    private static final int COMPARATOR_OFF = 3;

    private static final double FULL_SCALE_V = 4.096;
    private static final double FULL_SCALE = 32_768;
    private static final long CONVERSION_ns = 8_000_000L; // 1/128 s and a little
    private static final int TRIES = 5;

    private final RegisterBus bus;

    Converter(RegisterBus bus) {
        this.bus = bus;
    }

    /**
     * Converts one channel and waits for it, about 8 ms.
     *
     * @param channel 0 to 3
     * @return volts at the input pin; NaN when the converter does not answer or does not become ready
     */
    double read_V(int channel) {
        if (channel < 0 || channel > 3) {
            throw new IllegalArgumentException("channel " + channel + " is not 0 to 3");
        }
        int order =
                START_OR_READY
                        | (AGAINST_GROUND + channel) << CHANNEL_SHIFT
                        | RANGE_4096_mV
                        | SINGLE
                        | RATE_128_PER_S
                        | COMPARATOR_OFF;
        try {
            bus.write(CONFIGURATION, order);
            for (int i = 0; i < TRIES; i++) {
                LockSupport.parkNanos(CONVERSION_ns);
                if ((bus.read(CONFIGURATION) & START_OR_READY) != 0) {
                    return (short) bus.read(CONVERSION) * FULL_SCALE_V / FULL_SCALE;
                }
            }
            return Double.NaN;
        } catch (RegisterBus.BusException e) {
            return Double
                    .NaN; // unplugged: the reading grows stale and the interlock names the sensor
        }
    }

    /** What the check says when it does not answer. */
    static Finding silent(int bus, int address) {
        return new Finding(
                Trouble.DEVICE_SILENT,
                "The converter at address 0x%02x on I2C bus %d does not answer."
                        .formatted(address, bus),
                "Check its supply, the two bus wires and the strap of its address pin; correct the address in the configuration.");
    }
}
