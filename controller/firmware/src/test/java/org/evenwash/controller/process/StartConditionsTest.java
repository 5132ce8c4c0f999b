package org.evenwash.controller.process;

import static java.time.Duration.ofHours;
import static java.time.Duration.ofMillis;
import static java.time.Duration.ofMinutes;
import static java.time.Duration.ofSeconds;
import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import java.util.UUID;
import org.evenwash.controller.sim.SimulatedBench;
import org.junit.jupiter.api.Test;

/** What must be so before the motor may move, and what the operator may say about it. */
class StartConditionsTest {
    private static final UUID TICKET = new UUID(7, 7);
    private static final UUID WASH = new UUID(8, 8);

    private static List<String> refusals(SimulatedBench bench) {
        bench.press(Command.START).scan();
        return bench.machine().refused().stream().map(Refusal::tag).toList();
    }

    private static Job ticket(Recipe recipe) {
        return new Job(recipe, List.of(new Position(1, TICKET, WASH, Pass.FIRST)), Double.NaN);
    }

    private static SimulatedBench completed() {
        return SimulatedBench.ready(Settings.DEFAULTS, ticket(Recipes.TWENTY_SECONDS), 1)
                .start()
                .until(State.COMPLETE, ofSeconds(30));
    }

    @Test
    void coldBench_refusesWithAllReasonsAtOnce_eachWithItsRemedy() {
        SimulatedBench bench = SimulatedBench.cold(Settings.DEFAULTS, 1).openLid();
        bench.outbox(OutboxState.UNWRITABLE).advance(ofSeconds(1)).putJarsIn();
        bench.plant().spirit_C(25);
        bench.advance(ofMillis(50));
        assertThat(refusals(bench))
                .containsExactly(
                        "LID-OPEN",
                        "SUPPLY-OFF",
                        "SPIRIT-WARM",
                        "NO-RECIPE",
                        "OUTBOX-UNWRITABLE",
                        "CAUTIONS",
                        "PROOF-TEST-DUE",
                        "NO-RECIPE");
        assertThat(bench.machine().refused())
                .allSatisfy(r -> assertThat(r.reason()).isNotBlank())
                .allSatisfy(r -> assertThat(r.remedy()).isNotBlank());
        assertThat(bench.status().needsOperator()).isTrue();
        assertThat(bench.status().prompt()).contains("close the lid").contains("cautions");
    }

    @Test
    void refusedStart_isForgottenByTheNextButton_andNothingMoved() {
        SimulatedBench bench = SimulatedBench.ready(Recipes.TWENTY_SECONDS).openLid();
        bench.scan();
        assertThat(refusals(bench)).contains("LID-OPEN");
        bench.advance(ofSeconds(1));
        assertThat(bench.machine().refused()).as("shown until the next button").isNotEmpty();
        bench.press(Command.RESET);
        assertThat(bench.machine().refused()).isEmpty();
        assertThat(bench.state()).isEqualTo(State.IDLE);
    }

    @Test
    void jarLeftIn_isNeverShakenUnderTheNextTicket() {
        SimulatedBench bench = completed().press(Command.RESET);
        bench.load(ticket(Recipes.SECOND_WASH)).scan();
        assertThat(refusals(bench)).contains("JAR-LEFT-BEHIND");
        bench.openLid().advance(ofSeconds(1)).takeJarsOut().advance(ofMillis(200)).putJarsIn();
        bench.closeLid().advance(ofMillis(200)).rearm().advance(ofMillis(200));
        assertThat(refusals(bench))
                .as("out for 200 ms is a shaken contact")
                .contains("JAR-LEFT-BEHIND");
        bench.changeJars();
        assertThat(refusals(bench)).isEmpty();
        assertThat(bench.state()).isEqualTo(State.RUNNING);
    }

    @Test
    void everyPosition_mustHaveBeenSeenEmpty() {
        Settings two = Changed.settings(s -> s.positions = 2);
        SimulatedBench bench = SimulatedBench.ready(two, Job.of(Recipes.TWENTY_SECONDS), 1);
        bench.start().until(State.COMPLETE, ofSeconds(30)).press(Command.RESET).openLid();
        bench.advance(ofSeconds(1)).plant().jar(1, false);
        bench.advance(ofSeconds(1)).plant().jar(1, true);
        bench.closeLid().advance(ofSeconds(1)).rearm().advance(ofMillis(200));
        assertThat(refusals(bench)).containsExactly("JAR-LEFT-BEHIND");
        bench.plant().jar(2, false);
        bench.advance(ofSeconds(1)).plant().jar(2, true);
        bench.advance(ofMillis(200));
        assertThat(refusals(bench)).as("one after the other will do").isEmpty();
    }

    @Test
    void sameJarAgain_linksTheCycles_andKeepsTicketAndWash() {
        SimulatedBench bench = completed();
        UUID first = bench.machine().cycle().id();
        bench.choose(Choice.SAME_JAR_AGAIN);
        assertThat(bench.onlyRecord().soaks()).extracting(Soak::removed).containsExactly(false);
        bench.press(Command.RESET)
                .load(Job.of(Recipes.TWENTY_SECONDS))
                .advance(ofMillis(50))
                .start();
        assertThat(bench.state()).isEqualTo(State.RUNNING);
        Cycle second = bench.machine().cycle();
        assertThat(second.continues()).isEqualTo(first);
        assertThat(second.job().positions())
                .containsExactly(new Position(1, TICKET, WASH, Pass.FIRST));
    }

    @Test
    void sameJarAgain_isVoidOnceTheJarWasOut() {
        SimulatedBench bench = completed().choose(Choice.SAME_JAR_AGAIN).press(Command.RESET);
        bench.changeJars().start();
        assertThat(bench.state()).isEqualTo(State.RUNNING);
        assertThat(bench.machine().cycle().continues()).isNull();
    }

    @Test
    void secondWash_keepsTheWash_saysSo_andNeedsTheJarToHaveBeenOut() {
        SimulatedBench bench = completed().choose(Choice.SECOND_WASH).press(Command.RESET);
        bench.load(Job.of(Recipes.SECOND_WASH)).advance(ofMillis(50));
        assertThat(refusals(bench)).containsExactly("JAR-STUCK", "LID-STUCK");
        bench.changeJars().start();
        assertThat(bench.state()).isEqualTo(State.RUNNING);
        Cycle second = bench.machine().cycle();
        assertThat(second.continues()).isNull();
        assertThat(second.job().positions())
                .containsExactly(new Position(1, TICKET, WASH, Pass.SECOND));
    }

    @Test
    void aTicketOfItsOwn_winsOverTheJarsEarlierOne() {
        UUID other = new UUID(9, 9);
        SimulatedBench bench = completed().choose(Choice.SECOND_WASH).press(Command.RESET);
        Position jar = new Position(1, other, other, Pass.SECOND);
        bench.load(new Job(Recipes.SECOND_WASH, List.of(jar), Double.NaN)).changeJars().start();
        assertThat(bench.machine().cycle().job().positions()).containsExactly(jar);
    }

    @Test
    void jarChoices_areNotTakenDuringACycle() {
        SimulatedBench bench = SimulatedBench.running(Recipes.TWENTY_SECONDS);
        bench.choose(Choice.SAME_JAR_AGAIN).scan().choose(Choice.SECOND_WASH).scan();
        assertThat(bench.machine().memory().said().reuse()).isEqualTo(Memory.Reuse.NONE);
    }

    @Test
    void afterABoot_aJarThatWasLeftIn_continuesTheCycleTheOutboxKnows() {
        UUID interrupted = new UUID(5, 5);
        List<Position> jars = List.of(new Position(1, TICKET, WASH, Pass.FIRST));
        Machine m = Machine.boot(Settings.DEFAULTS, ProofRecord.NEVER, interrupted, jars);
        assertThat(m.state()).isEqualTo(State.IDLE);
        assertThat(m.memory().jarLeftBehind(Settings.DEFAULTS)).isTrue();
        assertThat(m.memory().previous().cycle()).isEqualTo(interrupted);
        assertThat(m.memory().previous().jars()).isEqualTo(jars);
        assertThat(m.cycleId()).isNull();
    }

    @Test
    void cautions_lastTwelveHours_andNotIntoAnotherBoot() {
        SimulatedBench bench = SimulatedBench.ready(Recipes.TWENTY_SECONDS);
        Settings s = bench.machine().settings();
        Memory memory = bench.machine().memory();
        long acknowledged_ns = memory.said().cautionsAt_ns();
        assertThat(bench.events())
                .filteredOn(e -> e.kind() == Entry.Kind.ACKNOWLEDGED)
                .extracting(Entry.BenchEvent::tag)
                .containsExactly("CAUTIONS");
        long limit_ns = ofHours(12).toNanos();
        bench.lateScan(Duration.ofNanos(acknowledged_ns + limit_ns - bench.inputs().uptime_ns()));
        assertThat(memory.cautionsDue(s, bench.inputs())).isFalse();
        bench.scan();
        assertThat(memory.cautionsDue(s, bench.inputs())).isTrue();
        bench.choose(Choice.ACKNOWLEDGE_CAUTIONS).scan();
        assertThat(bench.machine().memory().cautionsDue(s, bench.inputs())).isFalse();
    }

    @Test
    void warmSpirit_needsAnAcknowledgementOfItsOwn_forOneCycle() {
        SimulatedBench bench = SimulatedBench.ready(Recipes.TWENTY_SECONDS);
        bench.choose(Choice.ACKNOWLEDGE_WARM_SPIRIT).scan();
        bench.plant().ambient_C(8);
        bench.advance(ofMillis(50));
        assertThat(refusals(bench)).as("given too early").containsExactly("SPIRIT-WARM");
        bench.choose(Choice.ACKNOWLEDGE_WARM_SPIRIT).scan();
        assertThat(bench.events()).extracting(Entry.BenchEvent::tag).contains("SPIRIT-WARM");
        bench.start();
        assertThat(bench.state()).isEqualTo(State.RUNNING);
        bench.until(State.COMPLETE, ofSeconds(30)).changeJars().press(Command.RESET).scan();
        assertThat(bench.onlyRecord().warmSpiritAcknowledged()).isTrue();
        assertThat(refusals(bench)).as("it was for one cycle").containsExactly("SPIRIT-WARM");
    }

    @Test
    void warmSpirit_isRefusedOutright_whereConfiguredSo() {
        Settings strict = Changed.settings(s -> s.refuseWarmSpirit = true);
        SimulatedBench bench = SimulatedBench.ready(strict, Job.of(Recipes.TWENTY_SECONDS), 1);
        bench.plant().spirit_C(8);
        bench.advance(ofMillis(50)).choose(Choice.ACKNOWLEDGE_WARM_SPIRIT).scan();
        assertThat(refusals(bench)).containsExactly("SPIRIT-WARM");
    }

    @Test
    void flashPointOfTheTicket_decides_orTheCautiousOne() {
        Job strong =
                new Job(Recipes.TWENTY_SECONDS, Job.of(Recipes.TWENTY_SECONDS).positions(), 25);
        SimulatedBench bench = SimulatedBench.ready(Settings.DEFAULTS, strong, 1);
        bench.plant().spirit_C(19.9);
        assertThat(refusals(bench.advance(ofMillis(50)))).isEmpty();
        bench.plant().spirit_C(20);
        bench.load(Job.of(Recipes.TWENTY_SECONDS)).advance(ofSeconds(1));
        assertThat(bench.machine().trips().violated("SPIRIT-WARM"))
                .as("the cycle's own ticket goes on deciding")
                .isTrue();
        bench.plant().spirit_C(19.9);
        bench.scan();
        assertThat(bench.machine().trips().violated("SPIRIT-WARM")).isFalse();
    }

    @Test
    void benchWithoutATemperatureSensor_cannotKnow_soItAsks() {
        Set<Sensor> few = EnumSet.copyOf(Settings.REQUIRED);
        Settings plain = Changed.settings(s -> s.fitted = few);
        SimulatedBench bench = SimulatedBench.ready(plain, Job.of(Recipes.TWENTY_SECONDS), 1);
        assertThat(refusals(bench)).containsExactly("SPIRIT-WARM");
        bench.choose(Choice.ACKNOWLEDGE_WARM_SPIRIT).scan().start();
        assertThat(bench.until(State.COMPLETE, ofSeconds(30)).state()).isEqualTo(State.COMPLETE);
        bench.takeJarsOut().advance(ofSeconds(1));
        assertThat(bench.onlyRecord().spirit().count()).isZero();
        assertThat(bench.onlyRecord().spirit().mean()).isNaN();
    }

    @Test
    void oneTemperatureSensor_isEnough() {
        for (Sensor only : List.of(Sensor.SPIRIT_TEMPERATURE, Sensor.AMBIENT_TEMPERATURE)) {
            Set<Sensor> some = EnumSet.copyOf(Settings.REQUIRED);
            some.add(only);
            Settings plain = Changed.settings(s -> s.fitted = some);
            SimulatedBench bench = SimulatedBench.ready(plain, Job.of(Recipes.TWENTY_SECONDS), 1);
            assertThat(refusals(bench)).as("%s", only).isEmpty();
        }
    }

    @Test
    void restart_isOnlyForAHeldCycle() {
        SimulatedBench bench = SimulatedBench.ready(Recipes.TWENTY_SECONDS).press(Command.RESTART);
        assertThat(bench.machine().refused()).extracting(Refusal::tag).containsExactly("NOT-HELD");
        bench.start().press(Command.START);
        assertThat(bench.machine().refused()).extracting(Refusal::tag).containsExactly("NOT-IDLE");
        assertThat(bench.machine().refused().get(0).remedy()).contains("STOP");
    }

    @Test
    void previousRecord_leavesWhenTheJarHasStoodAsLongAsTheBenchAllows() {
        SimulatedBench bench = completed().press(Command.RESET).advance(ofSeconds(5));
        assertThat(bench.records()).as("the jar is still in").isEmpty();
        bench.advance(ofMinutes(10));
        assertThat(bench.onlyRecord().soaks().get(0).removed()).isFalse();
        assertThat(bench.onlyRecord().soaks().get(0).time())
                .isBetween(ofMinutes(10), ofMinutes(10).plusSeconds(1));
    }

    @Test
    void sameJarAgain_standsWhenOnlyTheLidWasOpened() {
        SimulatedBench bench = completed().choose(Choice.SAME_JAR_AGAIN).press(Command.RESET);
        bench.openLid().advance(ofSeconds(1)).closeLid().advance(ofSeconds(1));
        bench.rearm().advance(ofMillis(200)).start();
        assertThat(bench.state()).isEqualTo(State.RUNNING);
        assertThat(bench.machine().cycle().continues()).isNotNull();
    }

    @Test
    void positionTheBenchDoesNotHave_holdsNoJarThatCouldBeLeftBehind() {
        SimulatedBench bench = completed().press(Command.RESET);
        bench.plant().jar(3, true);
        assertThat(refusals(bench.changeJars())).isEmpty();
    }

    @Test
    void record_waitsForTheJars_exactlyAsLongAsTheBenchAllows() {
        SimulatedBench bench = completed();
        long ended_ns = bench.inputs().uptime_ns();
        while (bench.records().isEmpty()) {
            bench.scan();
        }
        assertThat(Duration.ofNanos(bench.inputs().uptime_ns() - ended_ns))
                .isEqualTo(Settings.DEFAULTS.jars().soakLimit());
    }
}
