package org.evenwash.controller.pi4j;

/** A device of 16-bit registers behind a pointer, high byte first. The real one is {@link I2cRegisters}. */
interface RegisterBus {
    /**
     * @return 0 to 65,535
     * @throws BusException when the device does not answer
     */
    int read(int register);

    /**
     * @param value 0 to 65,535
     * @throws BusException when the device does not answer
     */
    void write(int register, int value);

    /** The device did not answer: unplugged, without supply, or at another address. */
    final class BusException extends RuntimeException {
        private static final long serialVersionUID = 1L;

        BusException(String message, Throwable cause) {
            super(message, cause);
        }
    }
}
