package org.evenwash.controller.pi4j;

import org.evenwash.controller.pi4j.Finding.Trouble;

/**
 * Motor supply and current from one I2C part: a shunt monitor of the common 16-bit class that measures the bus up to 36 V
 * and the voltage over a shunt in the positive wire, by itself and without pause:
 *
 * <pre>
 * register 0  configuration  11..9 averages · 8..6 bus time · 5..3 shunt time · 2..0 mode (7 = both, continuous)
 * register 1  shunt voltage  signed, 2.5 µV a step
 * register 2  bus voltage    1.25 mV a step
 * </pre>
 *
 * Reading takes a millisecond or so, on a thread of its own, never in the scan.
 */
final class PowerMonitor {
    static final int CONFIGURATION = 0;
    static final int SHUNT = 1;
    static final int BUS = 2;

    private static final int RESERVED_AS_READ = 0x4000;
    private static final int FOUR_AVERAGES = 1 << 9;
    private static final int BUS_1100_us = 4 << 6;
    private static final int SHUNT_1100_us = 4 << 3;
    private static final int BOTH_CONTINUOUS = 7;
    static final int ORDER =
            RESERVED_AS_READ | FOUR_AVERAGES | BUS_1100_us | SHUNT_1100_us | BOTH_CONTINUOUS;

    private static final double BUS_V_PER_STEP = 1.25e-3;
    private static final double SHUNT_V_PER_STEP = 2.5e-6;

    private final RegisterBus registers;
    private final double shunt_Ohm;

    /**
     * @param shunt_mOhm above 0
     */
    PowerMonitor(RegisterBus registers, double shunt_mOhm) {
        this.registers = registers;
        this.shunt_Ohm = shunt_mOhm / 1000;
    }

    /** Motor supply, V; NaN when the part does not answer. */
    double supply_V() {
        try {
            return ready() ? registers.read(BUS) * BUS_V_PER_STEP : Double.NaN;
        } catch (RegisterBus.BusException e) {
            return Double
                    .NaN; // unplugged: the reading grows stale and the interlock names the sensor
        }
    }

    /** Motor current, A, without sign: a shunt wired the wrong way round must protect as well. NaN when silent. */
    double current_A() {
        try {
            return ready()
                    ? Math.abs((short) registers.read(SHUNT)) * SHUNT_V_PER_STEP / shunt_Ohm
                    : Double.NaN;
        } catch (RegisterBus.BusException e) {
            return Double.NaN;
        }
    }

    /** A part that lost its supply for a moment has forgotten its order; its registers are not believed until next time. */
    private boolean ready() {
        if (registers.read(CONFIGURATION) == ORDER) {
            return true;
        }
        registers.write(CONFIGURATION, ORDER);
        return false;
    }

    /** Whether anything answers at its address. */
    boolean answers() {
        try {
            registers.read(CONFIGURATION);
            return true;
        } catch (RegisterBus.BusException e) {
            return false; // that is the answer
        }
    }

    /** What the check says when something answers that does not keep the order it is given. */
    static Finding another(int bus, int address) {
        return new Finding(
                Trouble.WRONG_DEVICE,
                "Something answers at address 0x%02x on I2C bus %d, but it does not keep the order that a supply and current monitor keeps."
                        .formatted(address, bus),
                "Fit a monitor of the class that the parts list describes, or correct the address in the configuration.");
    }

    /** What the check says when it does not answer. */
    static Finding silent(int bus, int address) {
        return new Finding(
                Trouble.DEVICE_SILENT,
                "The supply and current monitor at address 0x%02x on I2C bus %d does not answer."
                        .formatted(address, bus),
                "Check its supply, the two bus wires and the straps of its address pins; correct the address in the configuration.");
    }
}
