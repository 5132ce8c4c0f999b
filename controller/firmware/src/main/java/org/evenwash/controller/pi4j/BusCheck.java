package org.evenwash.controller.pi4j;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.locks.LockSupport;
import java.util.function.Consumer;
import java.util.function.IntConsumer;

/**
 * Tries what is no line: the motor's PWM channel at duty 0, the monitor of supply and current, and each thermometer. It
 * shows what they say and finds what is wrong. Nothing moves: the PWM channel gives 0 throughout.
 */
public final class BusCheck {
    /** A table in a room is neither colder nor hotter, °C: what reads so is a part that is broken or lies elsewhere. */
    private static final double COLDEST_C = -20;

    private static final double HOTTEST_C = 60;

    /** The monitor forgets its order when it loses its supply and is believed at the next look only. */
    private static final int LOOKS = 3;

    private static final int BETWEEN_LOOKS_ms = 20;

    private final Wiring wiring;
    private final Opener opener;
    private final Consumer<String> show;
    private final IntConsumer pause_ms;

    /** How the monitor's bus is opened. */
    interface Opener {
        /**
         * @throws WiringException when the bus is not there
         */
        Bus open(int bus, int address);
    }

    /** A bus that can be given back. */
    interface Bus extends RegisterBus, AutoCloseable {
        @Override
        void close();
    }

    /**
     * @param show gets one line for each thing that answers
     */
    public BusCheck(Wiring wiring, Consumer<String> show) {
        this(wiring, I2cRegisters::open, show, BusCheck::pause);
    }

    BusCheck(Wiring wiring, Opener opener, Consumer<String> show, IntConsumer pause_ms) {
        this.wiring = wiring;
        this.opener = opener;
        this.show = show;
        this.pause_ms = pause_ms;
    }

    private static void pause(int length_ms) {
        LockSupport.parkNanos(length_ms * 1_000_000L);
    }

    /** All that is wrong; what is not fitted by the configuration is not tried. */
    public List<Finding> run() {
        List<Finding> found = new ArrayList<>();
        pwm(found);
        if (wiring.monitor().fitted()) {
            monitor(found);
        }
        thermometers(found);
        return found;
    }

    private void pwm(List<Finding> found) {
        Wiring.Pwm wired = wiring.pwm();
        try (SysfsPwm pwm =
                SysfsPwm.open(wired.tree(), wired.chip(), wired.channel(), wired.frequency_Hz())) {
            show.accept(
                    String.format(
                            Locale.ROOT,
                            "Motor PWM: channel %d of pwmchip%d, %d Hz, duty %.0f %%.",
                            wired.channel(),
                            wired.chip(),
                            wired.frequency_Hz(),
                            100 * pwm.duty()));
        } catch (WiringException e) {
            found.add(e.finding());
        }
    }

    private void monitor(List<Finding> found) {
        Wiring.Monitor wired = wiring.monitor();
        try (Bus bus = opener.open(wired.bus(), wired.address())) {
            PowerMonitor monitor = new PowerMonitor(bus, wired.shunt_mOhm());
            double supply_V = monitor.supply_V();
            for (int look = 1; look < LOOKS && Double.isNaN(supply_V); look++) {
                pause_ms.accept(BETWEEN_LOOKS_ms);
                supply_V = monitor.supply_V();
            }
            if (!Double.isNaN(supply_V)) {
                show.accept(
                        String.format(
                                Locale.ROOT,
                                "Supply monitor: %.2f V, %.2f A.",
                                supply_V,
                                monitor.current_A()));
            } else if (monitor.answers()) {
                found.add(PowerMonitor.another(wired.bus(), wired.address()));
            } else {
                found.add(PowerMonitor.silent(wired.bus(), wired.address()));
            }
        } catch (WiringException e) {
            found.add(e.finding());
        }
    }

    private void thermometers(List<Finding> found) {
        Map<String, String> purposes = new LinkedHashMap<>();
        Wiring.Thermometers wired = wiring.thermometers();
        thermometer(wired.motor(), "motor", purposes, found);
        thermometer(wired.spirit(), "spirit", purposes, found);
        thermometer(wired.ambient(), "room air", purposes, found);
    }

    /**
     * @param purposes what each number was already named for
     */
    private void thermometer(
            String id, String purpose, Map<String, String> purposes, List<Finding> found) {
        if (id.isEmpty()) {
            return;
        }
        String place = purposes.put(id, purpose);
        if (place != null) {
            found.add(OneWireTemperature.twice(id, place, purpose));
            return;
        }
        OneWireTemperature thermometer =
                new OneWireTemperature(wiring.thermometers().devices(), id);
        double now_C = thermometer.read_C();
        if (Double.isNaN(now_C)) {
            found.add(thermometer.missing(purpose));
        } else if (now_C < COLDEST_C || now_C > HOTTEST_C) {
            found.add(thermometer.implausible(purpose, now_C));
        } else {
            show.accept(
                    String.format(Locale.ROOT, "Thermometer of the %s: %.1f °C.", purpose, now_C));
        }
    }
}
