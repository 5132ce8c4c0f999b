package org.evenwash.controller.pi4j;

import java.util.List;

/**
 * Everything that a wire carries between the board and the bench. "Active" means: a contact is closed, a button is pressed,
 * an output is on; which level that is, the pin map says.
 */
public enum Signal {
    // spotless:off
    //             kind          title                        active at rest
    E_STOP        (Kind.CONTACT, "emergency stop read-back",  true,  "press the emergency stop and leave it pressed"),
    LID           (Kind.CONTACT, "lid read-back",             true,  "open the lid and leave it open"),
    GUARD         (Kind.CONTACT, "guard over the drive",      true,  "open the guard and leave it open"),
    CONTACTOR     (Kind.CONTACT, "contactor read-back",       false, "unplug the wire of the contactor's read-back contact"),
    DRIVER        (Kind.CONTACT, "motor driver healthy",      true,  "unplug the driver's healthy wire"),
    JAR_1         (Kind.CONTACT, "jar 1 locked",              true,  "unlock and lift jar 1"),
    JAR_2         (Kind.CONTACT, "jar 2 locked",              true,  "unlock and lift jar 2"),
    JAR_3         (Kind.CONTACT, "jar 3 locked",              true,  "unlock and lift jar 3"),
    JAR_4         (Kind.CONTACT, "jar 4 locked",              true,  "unlock and lift jar 4"),
    JAR_5         (Kind.CONTACT, "jar 5 locked",              true,  "unlock and lift jar 5"),
    JAR_6         (Kind.CONTACT, "jar 6 locked",              true,  "unlock and lift jar 6"),
    JAR_7         (Kind.CONTACT, "jar 7 locked",              true,  "unlock and lift jar 7"),
    JAR_8         (Kind.CONTACT, "jar 8 locked",              true,  "unlock and lift jar 8"),
    TACHOMETER    (Kind.PULSES,  "tachometer",                false, "turn the shaft by hand, slowly, one whole turn"),
    START_BUTTON  (Kind.BUTTON,  "START button",              false, "press and hold START"),
    STOP_BUTTON   (Kind.BUTTON,  "STOP button",               false, "press and hold STOP"),
    HOLD_BUTTON   (Kind.BUTTON,  "HOLD button",               false, "press and hold HOLD"),
    ACKNOWLEDGE_BUTTON(Kind.BUTTON, "ACKNOWLEDGE button",     false, "press and hold ACKNOWLEDGE"),
    SAME_JAR_BUTTON(Kind.BUTTON, "SAME JAR AGAIN button",     false, "press and hold SAME JAR AGAIN"),
    SECOND_WASH_BUTTON(Kind.BUTTON, "SECOND WASH button",     false, "press and hold SECOND WASH"),
    PROOF_TEST_BUTTON(Kind.BUTTON, "PROOF TEST button",       false, "press and hold PROOF TEST"),
    HEARTBEAT     (Kind.OUTPUT,  "heartbeat to the one-shot", false, "does the one-shot's lamp light"),
    SUPPLY_PERMIT (Kind.OUTPUT,  "motor supply permit",       false, "does the permit relay click"),
    DRIVE_ENABLE  (Kind.OUTPUT,  "drive enable",              false, "does the driver's enable lamp light, or a meter show 3.3 V there"),
    DRIVE_REVERSE (Kind.OUTPUT,  "drive direction",           false, "does a meter show 3.3 V at the driver's direction input"),
    MOTOR_PWM     (Kind.PWM,     "motor speed (PWM)",         false, "does a meter show about 1.6 V at the driver's PWM input"),
    LAMP_GREEN    (Kind.OUTPUT,  "green lamp",                false, "is the green lamp lit"),
    LAMP_YELLOW   (Kind.OUTPUT,  "yellow lamp",               false, "is the yellow lamp lit"),
    LAMP_RED      (Kind.OUTPUT,  "red lamp",                  false, "is the red lamp lit"),
    LAMP_BLUE     (Kind.OUTPUT,  "blue lamp",                 false, "is the blue lamp lit"),
    LAMP_WHITE    (Kind.OUTPUT,  "white lamp",                false, "is the white lamp lit"),
    SOUNDER       (Kind.OUTPUT,  "sounder",                   false, "does it sound");
    // spotless:on

    /** How a signal is read or driven. */
    public enum Kind {
        CONTACT,
        BUTTON,
        PULSES,
        OUTPUT,
        PWM;

        /** Whether the board listens. */
        public boolean isInput() {
            return this == CONTACT || this == BUTTON || this == PULSES;
        }
    }

    private static final List<Signal> JARS =
            List.of(JAR_1, JAR_2, JAR_3, JAR_4, JAR_5, JAR_6, JAR_7, JAR_8);

    private final Kind kind;
    private final String title;
    private final boolean activeAtRest;
    private final String trial;

    Signal(Kind kind, String title, boolean activeAtRest, String trial) {
        this.kind = kind;
        this.title = title;
        this.activeAtRest = activeAtRest;
        this.trial = trial;
    }

    public Kind kind() {
        return kind;
    }

    /** Its name in the builder's words. */
    public String title() {
        return title;
    }

    /** At rest: lid and guard closed, stop released, jars locked, no button pressed, motor supply off. */
    public boolean activeAtRest() {
        return activeAtRest;
    }

    /** What the builder does to try an input, or is asked about an output. */
    String trial() {
        return trial;
    }

    /** The contact of a jar position, 1 to 8. */
    public static Signal jar(int position) {
        if (position < 1 || position > 8) {
            throw new IllegalArgumentException("position " + position + " is not 1 to 8");
        }
        return JARS.get(position - 1);
    }

    /** The jar position of this contact, 1 to 8; 0 for every other signal. */
    public int position() {
        return JARS.indexOf(this) + 1;
    }
}
