package org.evenwash.controller.process;

import org.evenwash.controller.process.Meaning.Colour;

/**
 * Everything the bench is told in one scan. Computed from the machine each time, never remembered,
 * so a lost write heals itself.
 *
 * @param supplyPermitted the controller's own contact in the stop chain; false opens the contactor
 * @param driveOn the motor driver is enabled
 * @param duty 0 to 1; 0 whenever {@code driveOn} is false
 * @param heartbeat level of the line that feeds the one-shot; it changes on every scan
 */
public record Outputs(
        boolean supplyPermitted,
        boolean driveOn,
        boolean reverse,
        double duty,
        boolean heartbeat,
        boolean red,
        boolean yellow,
        boolean green,
        boolean blue,
        boolean white,
        boolean sounder) {

    /** What a dead program leaves behind, and what every adapter starts from. */
    public static final Outputs SAFE =
            new Outputs(false, false, false, 0, false, false, false, false, false, false, false);

    public static Outputs of(Machine m) {
        Meaning shown = Signals.main(m);
        boolean lit = shown.lit(m.uptime_ns());
        boolean asks = Signals.needsOperator(m) && Meaning.ACTION.lit(m.uptime_ns());
        return new Outputs(
                m.permitsSupply(),
                m.drive().on(),
                m.drive().reverse(),
                m.drive().on() ? m.drive().duty() : 0,
                m.heartbeat(),
                lit && shown.colour() == Colour.RED,
                lit && shown.colour() == Colour.YELLOW,
                lit && shown.colour() == Colour.GREEN,
                asks,
                lit && shown.colour() == Colour.WHITE,
                Signals.sounding(m));
    }
}
