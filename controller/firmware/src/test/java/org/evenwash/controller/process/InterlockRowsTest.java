package org.evenwash.controller.process;

import static java.time.Duration.ofMillis;
import static java.time.Duration.ofMinutes;
import static java.time.Duration.ofSeconds;
import static java.util.Map.entry;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.Consumer;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.evenwash.controller.process.Interlock.Clears;
import org.evenwash.controller.process.Interlock.Kind;
import org.evenwash.controller.sim.Fault;
import org.evenwash.controller.sim.SimulatedBench;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Every row of the table: just under its persistence nothing happens, just over it its command is
 * given, it clears by its rule, and a missing reading is the unsafe one. A row without a case here
 * fails {@link #everyRowHasItsCase}.
 */
class InterlockRowsTest {
    private static final Duration LONG = ofSeconds(10);

    /**
     * @param situation a bench in which nothing is violated but what the situation brings along
     * @param violate makes the row's condition true
     * @param cure makes it false again
     * @param alone no other row trips on the way
     */
    private record Case(
            Supplier<SimulatedBench> situation,
            Consumer<SimulatedBench> violate,
            Consumer<SimulatedBench> cure,
            boolean alone) {}

    private static Case running(Consumer<SimulatedBench> violate, Consumer<SimulatedBench> cure) {
        return new Case(InterlockRowsTest::agitating, violate, cure, true);
    }

    private static Case idle(Consumer<SimulatedBench> violate, Consumer<SimulatedBench> cure) {
        return new Case(() -> SimulatedBench.ready(Recipes.TWENTY_SECONDS), violate, cure, true);
    }

    private static Case silent(Sensor sensor) {
        return running(b -> b.fail(sensor, Fault.DISCONNECTED), b -> b.mend(sensor));
    }

    private static SimulatedBench agitating() {
        return SimulatedBench.running(Recipes.TWENTY_SECONDS).advance(ofSeconds(5));
    }

    private static SimulatedBench completed() {
        return agitating()
                .until(State.COMPLETE, ofSeconds(20))
                .press(Command.RESET)
                .advance(ofMillis(50));
    }

    private static SimulatedBench shortCycleAllowed() {
        Settings shortest = Changed.settings(s -> s.longestCycle = ofMinutes(1));
        Job job = Job.of(Recipes.TWO_MINUTES_IN_THREE_BOUTS);
        return SimulatedBench.ready(shortest, job, 1).start().advance(ofMillis(59_500));
    }

    // spotless:off
    private static final Map<String, Case> CASES = Map.ofEntries(
        entry("E-STOP-SENSOR",       silent(Sensor.E_STOP)),
        entry("E-STOP",              running(b -> b.pressEStop(), b -> b.releaseEStop())),
        entry("DRIVER-FAULT",        running(b -> b.plant().driverHealthy(false), b -> b.plant().driverHealthy(true))),
        entry("CONTACTOR-SENSOR",    silent(Sensor.CONTACTOR)),
        entry("CONTACTOR-WELDED",    new Case(InterlockRowsTest::agitating,
                                         b -> { b.plant().weldContactor(true); b.openLid(); },
                                         b -> { b.plant().weldContactor(false); b.closeLid(); }, false)),
        entry("MOTOR-RUNAWAY",       idle(b -> b.plant().driverStuckOn(true), b -> { b.plant().driverStuckOn(false); b.advance(ofSeconds(3)); })),
        entry("TACHO-SENSOR",        silent(Sensor.TACHOMETER)),
        entry("OVERSPEED",           running(b -> b.plant().pushShaft(400), b -> b.plant().pushShaft(0))),
        entry("STALL",               running(b -> b.plant().blockShaft(true), b -> b.plant().blockShaft(false))),
        entry("CURRENT-HIGH",        running(b -> b.plant().extraCurrent_A(10), b -> b.plant().extraCurrent_A(0))),
        entry("LID-SENSOR",          silent(Sensor.LID)),
        entry("LID-OPEN",            running(b -> b.openLid(), b -> b.closeLid())),
        entry("GUARD-OPEN",          running(b -> b.plant().guard(false), b -> b.plant().guard(true))),
        entry("JAR-SENSOR",          silent(Sensor.JARS)),
        entry("JAR-MISSING",         running(b -> b.takeJarsOut(), b -> b.putJarsIn())),
        entry("SUPPLY-OFF",          running(b -> b.plant().dropSupply(), b -> b.rearm())),
        entry("SCAN-OVERRUN",        running(b -> b.lateScan(ofMillis(101)), b -> { })),
        entry("MOTOR-TEMP-SENSOR",   silent(Sensor.MOTOR_TEMPERATURE)),
        entry("MOTOR-HOT",           running(b -> b.plant().motor_C(81), b -> b.plant().motor_C(60))),
        entry("SPIRIT-TEMP-SENSOR",  silent(Sensor.SPIRIT_TEMPERATURE)),
        entry("AMBIENT-TEMP-SENSOR", silent(Sensor.AMBIENT_TEMPERATURE)),
        entry("SPIRIT-WARM",         running(b -> b.plant().spirit_C(7), b -> b.plant().spirit_C(6.9))),
        entry("CURRENT-SENSOR",      silent(Sensor.MOTOR_CURRENT)),
        entry("SUPPLY-SENSOR",       silent(Sensor.SUPPLY_VOLTAGE)),
        entry("SUPPLY-LOW",          running(b -> b.plant().supply_V(10.4), b -> b.plant().supply_V(12.6))),
        entry("SPEED-BAND",          running(b -> b.plant().pushShaft(250), b -> b.plant().pushShaft(0))),
        entry("OUTBOX-SLOW",         new Case(() -> SimulatedBench.ready(Recipes.TWENTY_SECONDS).stallOutbox(true),
                                         b -> b.press(Command.START), b -> b.stallOutbox(false), true)),
        entry("HOLD-TOO-LONG",       new Case(() -> agitating().press(Command.HOLD).advance(ofMillis(119_900)), b -> { }, b -> { }, true)),
        entry("CYCLE-TOO-LONG",      new Case(InterlockRowsTest::shortCycleAllowed, b -> { }, b -> { }, true)),
        entry("SHUTTING-DOWN",       running(b -> b.shutDown(), b -> { })),
        entry("NO-RECIPE",           idle(b -> b.load(Job.NONE), b -> b.load(Job.of(Recipes.SECOND_WASH)))),
        entry("OUTBOX-UNWRITABLE",   idle(b -> b.outbox(OutboxState.FULL), b -> b.outbox(OutboxState.WRITABLE))),
        entry("CAUTIONS",            new Case(() -> SimulatedBench.cold(Settings.DEFAULTS, 1), b -> { }, b -> b.choose(Choice.ACKNOWLEDGE_CAUTIONS), false)),
        entry("PROOF-TEST-DUE",      idle(b -> b.jumpWallClock(Duration.ofDays(-2)), b -> b.jumpWallClock(Duration.ofDays(2)))),
        entry("PROOF-TEST-RUNNING",  idle(b -> b.choose(Choice.PROOF_TEST), b -> b.press(Command.STOP))),
        entry("JAR-LEFT-BEHIND",     new Case(InterlockRowsTest::completed, b -> { }, b -> b.changeJars(), false)),
        entry("JAR-STUCK",           new Case(InterlockRowsTest::completed, b -> b.choose(Choice.SECOND_WASH), b -> b.changeJars(), false)),
        entry("LID-STUCK",           new Case(InterlockRowsTest::completed, b -> { }, b -> b.openLid().scan().closeLid().scan().rearm().scan(), false)),
        entry("TACHO-STUCK",         new Case(InterlockRowsTest::drivenWithStuckTacho, b -> { }, b -> b.mend(Sensor.TACHOMETER).scan(), false)));
    // spotless:on

    private static SimulatedBench drivenWithStuckTacho() {
        SimulatedBench bench = SimulatedBench.ready(Recipes.TWENTY_SECONDS);
        bench.plant().pushShaft(180);
        bench.advance(ofSeconds(1)).fail(Sensor.TACHOMETER, Fault.STUCK);
        bench.plant().pushShaft(0);
        return bench;
    }

    @Test
    void everyRowHasItsCase() {
        Set<String> rows =
                Interlocks.TABLE.stream().map(Interlock::tag).collect(Collectors.toSet());
        assertThat(CASES.keySet()).isEqualTo(rows);
        assertThat(rows).hasSameSizeAs(Interlocks.TABLE);
        assertThat(Interlocks.TABLE).hasSizeLessThanOrEqualTo(64);
    }

    private static Stream<String> acting() {
        return tags(row -> row.asks() != Command.NONE);
    }

    private static Stream<String> refusing() {
        return tags(row -> row.asks() == Command.NONE);
    }

    private static Stream<String> sensed() {
        return tags(row -> row.sensor() != null && row.asks() != Command.NONE);
    }

    private static Stream<String> tags(java.util.function.Predicate<Interlock> which) {
        return Interlocks.TABLE.stream().filter(which).map(Interlock::tag);
    }

    @ParameterizedTest
    @MethodSource("acting")
    void justUnderItsPersistence_nothing_justOver_itsCommand(String tag) {
        Interlock row = Interlocks.row(tag);
        Case c = CASES.get(tag);
        SimulatedBench bench = c.situation().get();
        assertThat(bench.machine().trips().violated(tag)).isFalse();
        State before = violated(bench, c, tag);
        if (row.persists().isZero()) {
            assertThat(bench.machine().trips().active(tag)).isTrue();
        } else {
            bench.advance(row.persists().minusMillis(10));
            assertThat(bench.machine().trips().active(tag)).as("just under").isFalse();
            if (c.alone()) {
                assertThat(bench.state()).as("just under").isEqualTo(before);
            }
            bench.scan();
            assertThat(bench.machine().trips().active(tag)).as("just over").isTrue();
        }
        assertThat(bench.state()).isEqualTo(acted(row.asks()));
        if (row.kind() == Kind.SAFETY) {
            assertThat(bench.outputs().driveOn()).as("safety rows cut the drive").isFalse();
        }
        if (c.alone()) {
            Ending ending = bench.machine().ending();
            assertThat(row.asks() == Command.HOLD ? ending.first() : ending.by()).isEqualTo(tag);
        }
        assertThat(bench.events())
                .filteredOn(e -> e.kind() == Entry.Kind.TRIP)
                .extracting(Entry.BenchEvent::tag)
                .contains(tag);
    }

    /** Brings about the violation and gives the state the bench was in just before it. */
    private static State violated(SimulatedBench bench, Case c, String tag) {
        State before = bench.state();
        c.violate().accept(bench);
        if (bench.machine().trips().violated(tag)) {
            return before;
        }
        for (int i = 0; i < 1000; i++) {
            before = bench.state();
            bench.scan();
            if (bench.machine().trips().violated(tag)) {
                return before;
            }
        }
        throw new AssertionError(tag + " was never violated");
    }

    private static State acted(Command command) {
        return switch (command) {
            case ABORT -> State.ABORTING;
            case STOP -> State.STOPPING;
            case HOLD -> State.HOLDING;
            case NONE, START, RESTART, RESET -> throw new AssertionError(command);
        };
    }

    @ParameterizedTest
    @MethodSource("acting")
    void cured_clearsByItsRule(String tag) {
        Interlock row = Interlocks.row(tag);
        Case c = CASES.get(tag);
        SimulatedBench bench = c.situation().get();
        violated(bench, c, tag);
        bench.advance(row.persists().plusMillis(100));
        // Some conditions end with what the trip stops: a drive that is off cannot stall.
        if (bench.machine().trips().violated(tag)) {
            bench.press(Command.RESET);
            assertThat(bench.machine().trips().active(tag)).as("not while violated").isTrue();
        }
        if (tag.equals("CYCLE-TOO-LONG") || tag.equals("SHUTTING-DOWN")) {
            return; // nothing cures time or the end of the program
        }
        c.cure().accept(bench);
        bench.advance(ofSeconds(1));
        boolean byItself = row.clears() == Clears.BY_ITSELF;
        assertThat(bench.machine().trips().active(tag)).isEqualTo(!byItself);
        bench.press(Command.RESET);
        assertThat(bench.machine().trips().active(tag)).isFalse();
        assertThat(bench.events())
                .filteredOn(e -> e.kind() == Entry.Kind.CLEAR)
                .extracting(Entry.BenchEvent::tag)
                .contains(tag);
        assertThat(bench.state()).as("clearing never starts").isNotEqualTo(State.RUNNING);
    }

    @ParameterizedTest
    @MethodSource("sensed")
    void missingReading_isUnsafe_andNamesTheSensor(String tag) {
        Sensor sensor = Interlocks.row(tag).sensor();
        SimulatedBench idle = SimulatedBench.ready(Recipes.TWENTY_SECONDS);
        idle.fail(sensor, Fault.DISCONNECTED).advance(ofMillis(50));
        idle.press(Command.START).advance(ofMillis(50));
        assertThat(idle.state()).isNotEqualTo(State.RUNNING);
        assertThat(idle.machine().refused()).isNotEmpty();

        SimulatedBench bench = agitating().fail(sensor, Fault.DISCONNECTED).advance(ofSeconds(3));
        assertThat(bench.state()).isNotEqualTo(State.RUNNING);
        assertThat(bench.plant().motorPowered()).isFalse();
        Interlock cause = Interlocks.row(bench.machine().ending().first());
        assertThat(cause.sensor()).isEqualTo(sensor);
        String named = sensor.title().split(" ")[0];
        assertThat(cause.when()).containsIgnoringCase(named.replace("jars", "jar"));
    }

    @ParameterizedTest
    @MethodSource("refusing")
    void startOnlyRow_refusesWhileItHolds_andNoLonger(String tag) {
        Case c = CASES.get(tag);
        SimulatedBench bench = c.situation().get();
        c.violate().accept(bench);
        if (tag.equals("TACHO-STUCK")) {
            bench.start().until(State.COMPLETE, LONG.multipliedBy(3)).press(Command.RESET).scan();
        }
        bench.scan().press(Command.START).scan();
        assertThat(bench.state()).isEqualTo(State.IDLE);
        assertThat(bench.machine().refused()).extracting(Refusal::tag).contains(tag);
        assertThat(bench.machine().trips().active(tag)).as("it never trips").isFalse();
        c.cure().accept(bench);
        bench.scan().press(Command.START).scan();
        assertThat(bench.machine().refused()).extracting(Refusal::tag).doesNotContain(tag);
    }

    @ParameterizedTest
    @ValueSource(strings = {"OUTBOX-UNWRITABLE", "NO-RECIPE", "PROOF-TEST-DUE"})
    void startOnlyRow_doesNotDisturbARunningCycle(String tag) {
        SimulatedBench bench = agitating();
        CASES.get(tag).violate().accept(bench);
        assertThat(bench.advance(ofSeconds(5)).machine().trips().violated(tag)).isTrue();
        assertThat(bench.state()).isEqualTo(State.RUNNING);
    }

    @Test
    void markdown_hasOneLinePerRow() {
        List<String> lines = Interlocks.markdown().lines().toList();
        assertThat(lines).hasSize(Interlocks.TABLE.size() + 2);
        assertThat(lines.get(2))
                .startsWith("| E-STOP-SENSOR | safety | ")
                .contains(" | 0 ms | ABORT | on RESET | ");
        assertThat(lines.get(lines.size() - 1)).contains("| no START | by itself |");
        assertThat(lines).allMatch(line -> line.chars().filter(ch -> ch == '|').count() == 9);
    }

    @Test
    void rowThatIsNotInTheTable_isNamed() {
        assertThatThrownBy(() -> Interlocks.row("LID-AJAR"))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("no interlock is called LID-AJAR");
    }
}
