package org.evenwash.controller.pi4j;

import com.pi4j.Pi4J;
import com.pi4j.context.Context;
import com.pi4j.exception.Pi4JException;
import com.pi4j.io.i2c.I2C;
import com.pi4j.plugin.linuxfs.provider.i2c.LinuxFsI2CProvider;
import java.nio.file.Files;
import java.nio.file.Path;
import org.evenwash.controller.pi4j.Finding.Trouble;

/**
 * Registers of one device on an I2C bus, through Pi4J. A read allocates some kilobytes and may take milliseconds, so it
 * belongs on a thread of its own, never in the scan.
 */
final class I2cRegisters implements BusCheck.Bus {
    private final Context context;
    private final I2C device;

    private I2cRegisters(Context context, I2C device) {
        this.context = context;
        this.device = device;
    }

    /**
     * Opens a device; whether it answers shows at the first read.
     *
     * @param bus N of {@code /dev/i2c-N}; 1 is the header's
     * @param address 0x08 to 0x77
     * @throws WiringException when the bus is not there or may not be opened
     */
    static I2cRegisters open(int bus, int address) {
        if (!Files.isWritable(Path.of("/dev/i2c-" + bus))) {
            throw new WiringException(noBus(bus));
        }
        Context context = Pi4J.newContextBuilder().add(LinuxFsI2CProvider.newInstance()).build();
        try {
            I2C device =
                    context.create(
                            I2C.newConfigBuilder(context)
                                    .id("converter")
                                    .bus(bus)
                                    .device(address)
                                    .build());
            return new I2cRegisters(context, device);
        } catch (Pi4JException e) {
            context.shutdown();
            throw new WiringException(noBus(bus), e);
        }
    }

    @Override
    public int read(int register) {
        byte[] bytes = new byte[2];
        try {
            device.readRegister(register, bytes);
        } catch (Pi4JException e) {
            throw new BusException("register " + register + " cannot be read", e);
        }
        return Byte.toUnsignedInt(bytes[0]) << 8 | Byte.toUnsignedInt(bytes[1]);
    }

    @Override
    public void write(int register, int value) {
        try {
            device.writeRegister(register, new byte[] {(byte) (value >> 8), (byte) value});
        } catch (Pi4JException e) {
            throw new BusException("register " + register + " cannot be written", e);
        }
    }

    @Override
    public void close() {
        context.shutdown();
    }

    private static Finding noBus(int bus) {
        return new Finding(
                Trouble.BUS_MISSING,
                "The I2C bus %d (/dev/i2c-%d) is not there or may not be opened by this user."
                        .formatted(bus, bus),
                "Switch I2C on in the board's settings, restart, and add the user to the group 'i2c'.");
    }
}
