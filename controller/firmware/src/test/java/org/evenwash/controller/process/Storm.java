package org.evenwash.controller.process;

import static java.time.Duration.ofMillis;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.evenwash.controller.sim.Fault;
import org.evenwash.controller.sim.SimulatedBench;

/** One life of a bench under random faults, buttons and jumps, all from one seed. */
final class Storm {
    /** Longest run before the bench is shut down, scans; the shortest is a quarter of it. */
    private static final int LONGEST = Integer.getInteger("storm.longest", 600);

    private static final Command[] BUTTONS = Command.values();
    private static final Choice[] CHOICES = Choice.values();
    private static final Sensor[] SENSORS = Sensor.values();
    private static final Fault[] FAULTS = Fault.values();
    private static final OutboxState[] OUTBOX = OutboxState.values();

    private static final Settings[] SETTINGS = {
        Settings.DEFAULTS,
        Changed.settings(s -> s.positions = 2),
        Changed.settings(s -> s.positions = 8)
    };

    private final SplittableRandom random;
    private final SimulatedBench bench;
    private final StormLog log;

    Storm(long seed) {
        random = new SplittableRandom(seed);
        Settings settings = SETTINGS[random.nextInt(SETTINGS.length)];
        bench = SimulatedBench.ready(settings, job(settings), seed);
        log = new StormLog(bench);
    }

    SimulatedBench bench() {
        return bench;
    }

    StormLog log() {
        return log;
    }

    void rage() {
        int length = random.nextInt(LONGEST / 4, LONGEST);
        bench.press(Command.START);
        log.check();
        for (int i = 0; i < length; i++) {
            if (random.nextInt(25) == 0) {
                disturb();
            }
            scan();
        }
        bench.keepDown(Command.NONE).shutDown();
        for (int i = 0; i < 600 && bench.state() != State.IDLE && !bench.state().ended(); i++) {
            scan();
        }
        scan();
        log.checkAtTheEnd();
    }

    private void scan() {
        bench.scan();
        log.check();
        bench.keepDown(Command.NONE);
    }

    private Job job(Settings settings) {
        int bouts = random.nextInt(1, 4);
        List<Bout> list = new ArrayList<>();
        for (int i = 0; i < bouts; i++) {
            list.add(
                    new Bout(
                            ofMillis(random.nextInt(300, 1200)),
                            random.nextInt(40, 300),
                            ofMillis(random.nextInt(3) * 75L),
                            ofMillis(random.nextInt(4) * 100L),
                            random.nextBoolean()));
        }
        Recipe recipe =
                new Recipe(
                        "storm",
                        "Storm",
                        1,
                        list,
                        random.nextInt(1, 3),
                        Tolerances.USUAL,
                        ofMillis(random.nextInt(500, 4000)));
        List<Position> jars = new ArrayList<>();
        for (int p = 1; p <= settings.positions(); p++) {
            if (p == 1 || random.nextBoolean()) {
                jars.add(Position.unassigned(p));
            }
        }
        return new Job(recipe, jars, random.nextBoolean() ? Double.NaN : 24);
    }

    /** One thing that happens. Wrong things are mended about as often as they are made. */
    private void disturb() {
        switch (random.nextInt(26)) {
            case 0 -> bench.openLid();
            case 1 -> bench.closeLid();
            case 2 -> bench.pressEStop();
            case 3 -> bench.releaseEStop();
            case 4, 5, 6 -> bench.rearm();
            case 7 -> bench.takeJarsOut();
            case 8 -> bench.putJarsIn();
            case 9 -> bench.fail(oneOf(SENSORS), oneOf(FAULTS));
            case 10 -> bench.plant().mendAll();
            case 11 -> late();
            case 12 ->
                    bench.jumpWallClock(Duration.ofSeconds(random.nextLong(-1_000_000, 1_000_000)));
            case 13 -> bench.clockSynchronised(random.nextBoolean());
            case 14 -> bench.outbox(oneOf(OUTBOX));
            case 15 -> bench.stallOutbox(random.nextInt(3) == 0);
            case 16 -> bench.ask(random.nextBoolean() ? RemoteRequest.HOLD : RemoteRequest.STOP);
            case 17 ->
                    bench.load(random.nextInt(4) == 0 ? Job.NONE : job(bench.machine().settings()));
            case 18 -> plantFault();
            case 19 -> everythingWell();
            case 20, 21 -> choose();
            default -> bench.keepDown(oneOf(BUTTONS));
        }
    }

    private void late() {
        bench.lateScan(ofMillis(random.nextInt(11, 400)));
        log.check();
    }

    private void choose() {
        bench.keepDown(random.nextBoolean() ? oneOf(BUTTONS) : Command.NONE);
        bench.choose(oneOf(CHOICES));
        log.check();
    }

    private void plantFault() {
        switch (random.nextInt(9)) {
            case 0 -> bench.plant().weldContactor(random.nextBoolean());
            case 1 -> bench.plant().driverStuckOn(random.nextInt(3) == 0);
            case 2 -> bench.plant().driverHealthy(random.nextBoolean());
            case 3 -> bench.plant().guard(random.nextBoolean());
            case 4 -> bench.plant().blockShaft(random.nextBoolean());
            case 5 -> bench.plant().spirit_C(random.nextInt(2, 30));
            case 6 -> bench.plant().supply_V(random.nextInt(9, 14));
            case 7 -> bench.plant().motor_C(random.nextInt(20, 90));
            default -> bench.plant().dropSupply();
        }
    }

    /** Someone puts the bench in order, so that more than the first trip is ever seen. */
    private void everythingWell() {
        bench.plant().mendAll();
        bench.plant().weldContactor(false);
        bench.plant().driverStuckOn(false);
        bench.plant().driverHealthy(true);
        bench.plant().guard(true);
        bench.plant().blockShaft(false);
        bench.plant().spirit_C(4);
        bench.plant().supply_V(12.6);
        bench.plant().motor_C(20);
        bench.releaseEStop().closeLid().putJarsIn();
        bench.outbox(OutboxState.WRITABLE).stallOutbox(false);
        scan();
        bench.rearm();
        scan();
        bench.keepDown(Command.RESET);
        scan();
        bench.keepDown(random.nextBoolean() ? Command.RESTART : Command.START);
    }

    private <T> T oneOf(T[] all) {
        return all[random.nextInt(all.length)];
    }
}
