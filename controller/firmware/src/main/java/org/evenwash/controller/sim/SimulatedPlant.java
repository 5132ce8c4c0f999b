package org.evenwash.controller.sim;

import java.util.EnumMap;
import java.util.Map;
import java.util.SplittableRandom;
import org.evenwash.controller.port.Actuators;
import org.evenwash.controller.port.Sensors;
import org.evenwash.controller.process.Contact;
import org.evenwash.controller.process.Outputs;
import org.evenwash.controller.process.Reading;
import org.evenwash.controller.process.Readings;
import org.evenwash.controller.process.Sensor;

/**
 * The things on the bench, seen through their sensors and moved by what was last written. Reading
 * advances it to the given time, so it runs in virtual time as well as in real time. One thread at
 * a time.
 */
public final class SimulatedPlant implements Sensors, Actuators {
    private final SplittableRandom random;
    private final Motor motor;
    private final StopChain chain = new StopChain();
    private final Map<Sensor, Fault> faults = new EnumMap<>(Sensor.class);
    private Outputs outputs = Outputs.SAFE;
    private Readings last = Readings.NONE;
    private long uptime_ns;
    private boolean lidClosed = true;
    private boolean guardClosed = true;
    private boolean driverHealthy = true;
    private boolean driverStuckOn;
    private int jars;
    private double ambient_C = 5;
    private double spirit_C = 5;
    private double motor_C = 20;
    private double supply_V = 12.6;
    private double extraCurrent_A;

    /** Lid and guard closed, no jars, motor supply not armed, a cool shed. */
    public SimulatedPlant(long seed) {
        random = new SplittableRandom(seed);
        motor = new Motor(random);
    }

    @Override
    public void write(Outputs written) {
        outputs = written;
    }

    @Override
    public Readings read(long now_ns) {
        advance(now_ns);
        Readings seen =
                new Readings(
                        contact(Sensor.E_STOP, chain.eStop(), last.eStop()),
                        contact(Sensor.LID, closed(lidClosed), last.lid()),
                        contact(Sensor.GUARD, closed(guardClosed), last.guard()),
                        contact(Sensor.CONTACTOR, chain.contactor(), last.contactor()),
                        contact(Sensor.DRIVER, closed(driverHealthy), last.driver()),
                        jarsSeen(),
                        fault(Sensor.JARS) == Fault.DISCONNECTED ? 0xFF : 0,
                        value(Sensor.TACHOMETER, motor.seen_rpm(), last.shaft()),
                        value(Sensor.MOTOR_TEMPERATURE, motor_C, last.motor()),
                        value(Sensor.SPIRIT_TEMPERATURE, spirit_C, last.spirit()),
                        value(Sensor.AMBIENT_TEMPERATURE, ambient_C, last.ambient()),
                        value(Sensor.SUPPLY_VOLTAGE, sagged_V(), last.supply()),
                        value(Sensor.MOTOR_CURRENT, drawn_A(), last.current()));
        last = seen;
        return seen;
    }

    private void advance(long now_ns) {
        long elapsed_ns = Math.max(0, now_ns - uptime_ns);
        uptime_ns = now_ns;
        chain.advance(now_ns, outputs.heartbeat(), outputs.supplyPermitted(), lidClosed);
        boolean driven = outputs.driveOn() || driverStuckOn;
        double duty = driverStuckOn ? 0.5 : outputs.duty();
        double powered = driven && chain.closed() ? duty : 0;
        // Longer gaps than this tell the model nothing more.
        double elapsed_s = Math.min(elapsed_ns * 1e-9, 60);
        motor.advance(elapsed_s, powered, sagged_V(), Integer.bitCount(jars));
        motor_C += (0.02 * motor.current_A() - 0.001 * (motor_C - ambient_C)) * elapsed_s;
    }

    private static Contact closed(boolean yes) {
        return yes ? Contact.CLOSED : Contact.OPEN;
    }

    private Fault fault(Sensor sensor) {
        return faults.isEmpty() ? Fault.NONE : faults.getOrDefault(sensor, Fault.NONE);
    }

    private Contact contact(Sensor sensor, Contact truth, Contact before) {
        return switch (fault(sensor)) {
            case NONE -> truth;
            case DISCONNECTED, SILENT, OUT_OF_RANGE -> Contact.MISSING;
            case STUCK -> before;
            case NOISY -> closed(random.nextBoolean());
        };
    }

    private int jarsSeen() {
        return switch (fault(Sensor.JARS)) {
            case NONE -> jars;
            case DISCONNECTED, SILENT, OUT_OF_RANGE -> 0;
            case STUCK -> last.jarsPresent();
            case NOISY -> jars & random.nextInt(256);
        };
    }

    private Reading value(Sensor sensor, double truth, Reading before) {
        double range = sensor.highest() - sensor.lowest();
        return switch (fault(sensor)) {
            case NONE -> new Reading(truth, uptime_ns);
            case DISCONNECTED -> Reading.MISSING;
            case SILENT -> before;
            case STUCK -> new Reading(before.value(), uptime_ns);
            case NOISY ->
                    new Reading(truth + 0.1 * range * (2 * random.nextDouble() - 1), uptime_ns);
            case OUT_OF_RANGE -> new Reading(sensor.highest() + range, uptime_ns);
        };
    }

    private double sagged_V() {
        return supply_V - 0.05 * motor.current_A();
    }

    private double drawn_A() {
        return motor.current_A() + extraCurrent_A;
    }

    /** Breaks a sensor, or mends it with {@link Fault#NONE}. */
    public void fail(Sensor sensor, Fault fault) {
        if (fault == Fault.NONE) {
            faults.remove(sensor);
        } else {
            faults.put(sensor, fault);
        }
    }

    public void mendAll() {
        faults.clear();
    }

    public void lid(boolean shut) {
        lidClosed = shut;
    }

    public void guard(boolean shut) {
        guardClosed = shut;
    }

    public void driverHealthy(boolean healthy) {
        driverHealthy = healthy;
    }

    /** The driver passes current whatever it is told. */
    public void driverStuckOn(boolean stuck) {
        driverStuckOn = stuck;
    }

    public void pressEStop(boolean pressed) {
        chain.pressEStop(pressed);
    }

    /** The reset button of the motor supply: works when the whole chain is healthy. */
    public void rearm() {
        chain.rearm();
    }

    /** The motor supply goes away by itself. */
    public void dropSupply() {
        chain.drop();
    }

    public void weldContactor(boolean welded) {
        chain.weld(welded);
    }

    /** Puts a locked jar into a position from 1, or takes it out. */
    public void jar(int position, boolean present) {
        int bit = 1 << (position - 1);
        jars = present ? jars | bit : jars & ~bit;
    }

    public void blockShaft(boolean blocked) {
        motor.block(blocked);
    }

    /** Turns the shaft at least this fast whatever the drive does, rpm. */
    public void pushShaft(double rpm) {
        motor.pushTo(rpm);
    }

    public void spirit_C(double celsius) {
        spirit_C = celsius;
    }

    public void ambient_C(double celsius) {
        ambient_C = celsius;
    }

    public void motor_C(double celsius) {
        motor_C = celsius;
    }

    public void supply_V(double volts) {
        supply_V = volts;
    }

    /** Current that flows beside the motor's own, A. */
    public void extraCurrent_A(double amperes) {
        extraCurrent_A = amperes;
    }

    /** Current flows into the motor: what must never be when a safety row stands. */
    public boolean motorPowered() {
        boolean driven = outputs.driveOn() && outputs.duty() > 0;
        return chain.closed() && (driverStuckOn || driven);
    }

    public boolean contactorClosed() {
        return chain.closed();
    }

    /** True shaft speed, rpm. */
    public double shaft_rpm() {
        return motor.speed_rpm();
    }

    public boolean lidShut() {
        return lidClosed;
    }
}
