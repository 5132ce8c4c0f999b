package org.evenwash.controller.process;

/**
 * All sensors, sampled once per scan.
 *
 * @param eStop the emergency stop's own read-back contact; CLOSED when released
 * @param lid CLOSED when the lid is shut
 * @param guard CLOSED when the guard over the drive is in place
 * @param contactor CLOSED when the motor supply is switched through
 * @param driver CLOSED while the motor driver reports itself healthy
 * @param jarsPresent bit {@code p-1} set when position {@code p} holds a locked jar
 * @param jarsUnread bit {@code p-1} set when the contact of position {@code p} gave no reading
 * @param shaft speed of the shaft, rpm, without sign
 * @param motor temperature of the motor, °C
 * @param spirit temperature of the spirit or of the jar wall, °C
 * @param ambient temperature of the air at the bench, °C
 * @param supply motor supply, V
 * @param current motor current, A
 */
public record Readings(
        Contact eStop,
        Contact lid,
        Contact guard,
        Contact contactor,
        Contact driver,
        int jarsPresent,
        int jarsUnread,
        Reading shaft,
        Reading motor,
        Reading spirit,
        Reading ambient,
        Reading supply,
        Reading current) {

    /** Nothing could be read: what a bench sees with every plug pulled out. */
    public static final Readings NONE =
            new Readings(
                    Contact.MISSING,
                    Contact.MISSING,
                    Contact.MISSING,
                    Contact.MISSING,
                    Contact.MISSING,
                    0,
                    0xFF,
                    Reading.MISSING,
                    Reading.MISSING,
                    Reading.MISSING,
                    Reading.MISSING,
                    Reading.MISSING,
                    Reading.MISSING);

    /** The value of a measuring sensor; MISSING for a contact, which has none. */
    public Reading of(Sensor sensor) {
        return switch (sensor) {
            case TACHOMETER -> shaft;
            case MOTOR_TEMPERATURE -> motor;
            case SPIRIT_TEMPERATURE -> spirit;
            case AMBIENT_TEMPERATURE -> ambient;
            case SUPPLY_VOLTAGE -> supply;
            case MOTOR_CURRENT -> current;
            case E_STOP, LID, JARS, GUARD, CONTACTOR, DRIVER -> Reading.MISSING;
        };
    }

    /** Jars that are neither there nor unread: positions seen empty. */
    int jarsAbsent(int allPositions) {
        return allPositions & ~jarsPresent & ~jarsUnread;
    }
}
