package org.evenwash.controller.process;

import static java.time.Duration.ofDays;
import static java.time.Duration.ofMillis;
import static java.time.Duration.ofMinutes;
import static java.time.Duration.ofSeconds;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.evenwash.controller.sim.Fault;
import org.evenwash.controller.sim.SimulatedBench;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** Sensors fail in their own ways; the unsafe reading wins and the message names the sensor. */
class SensorFailureTest {
    private static SimulatedBench agitating() {
        return SimulatedBench.running(Recipes.TWENTY_SECONDS).advance(ofSeconds(5));
    }

    private static void stoppedBecauseOf(SimulatedBench bench, Sensor sensor) {
        assertThat(bench.state()).isNotEqualTo(State.RUNNING);
        assertThat(bench.outputs().driveOn()).isFalse();
        Interlock cause = Interlocks.row(bench.machine().ending().first());
        assertThat(cause.sensor()).isEqualTo(sensor);
        assertThat(cause.when()).contains(sensor.title().split(" ")[0].replace("jars", "jar"));
        assertThat(bench.status().tripped()).contains(cause);
    }

    @ParameterizedTest
    @EnumSource(Sensor.class)
    void disconnected(Sensor sensor) {
        stoppedBecauseOf(
                agitating().fail(sensor, Fault.DISCONNECTED).advance(ofSeconds(4)), sensor);
    }

    @ParameterizedTest
    @EnumSource(Sensor.class)
    void outOfRange(Sensor sensor) {
        stoppedBecauseOf(
                agitating().fail(sensor, Fault.OUT_OF_RANGE).advance(ofSeconds(4)), sensor);
    }

    @ParameterizedTest
    @EnumSource(Sensor.class)
    void fallenSilent_isNoticedOnceItsLastReadingIsOld(Sensor sensor) {
        SimulatedBench bench = agitating().fail(sensor, Fault.SILENT);
        stoppedBecauseOf(bench.advance(sensor.longestSilence()).advance(ofMillis(3500)), sensor);
    }

    @Test
    void reading_isUsableUpToItsLongestSilenceAndWithinItsRange() {
        Sensor s = Sensor.SUPPLY_VOLTAGE;
        long limit_ns = s.longestSilence().toNanos();
        assertThat(new Reading(12, 0).usable(s, limit_ns)).isTrue();
        assertThat(new Reading(12, 0).usable(s, limit_ns + 1)).isFalse();
        assertThat(new Reading(s.lowest(), 0).usable(s, 0)).isTrue();
        assertThat(new Reading(s.highest(), 0).usable(s, 0)).isTrue();
        assertThat(new Reading(Math.nextDown(s.lowest()), 0).usable(s, 0)).isFalse();
        assertThat(new Reading(Math.nextUp(s.highest()), 0).usable(s, 0)).isFalse();
        assertThat(Reading.MISSING.usable(s, 0)).isFalse();
        assertThat(new Reading(-30, 0).usable(Sensor.SPIRIT_TEMPERATURE, 0)).as("frost").isTrue();
        assertThat(s.unit()).isEqualTo("V");
        for (Sensor each : Sensor.values()) {
            assertThat(Readings.NONE.of(each)).isEqualTo(Reading.MISSING);
        }
    }

    @Test
    void noisyTachometer_endsInAHoldOrAnAbort_neverInANormalRun() {
        SimulatedBench bench = agitating().fail(Sensor.TACHOMETER, Fault.NOISY);
        bench.advance(ofSeconds(10));
        assertThat(bench.state()).isNotIn(State.RUNNING, State.COMPLETE);
        assertThat(Interlocks.row(bench.machine().ending().first()).sensor())
                .isEqualTo(Sensor.TACHOMETER);
    }

    @ParameterizedTest
    @EnumSource(
            value = Sensor.class,
            names = {"E_STOP", "LID", "GUARD", "DRIVER"})
    void chatteringContact_stopsTheMotor(Sensor sensor) {
        SimulatedBench bench = agitating().fail(sensor, Fault.NOISY).advance(ofSeconds(3));
        assertThat(bench.state()).isNotEqualTo(State.RUNNING);
        assertThat(bench.outputs().driveOn()).isFalse();
        String cause = bench.machine().ending().first();
        assertThat(Interlocks.row(cause).sensor()).isEqualTo(sensor);
        assertThat(bench.events()).extracting(Entry.BenchEvent::tag).contains(cause);
    }

    @Test
    void lidStuckClosed_isNoticedAtTheNextChangeOfJars() {
        SimulatedBench bench =
                agitating().until(State.COMPLETE, ofSeconds(30)).fail(Sensor.LID, Fault.STUCK);
        bench.changeJars().press(Command.RESET).press(Command.START).scan();
        assertThat(bench.state()).isEqualTo(State.IDLE);
        assertThat(bench.machine().refused()).extracting(Refusal::tag).containsExactly("LID-STUCK");
    }

    @Test
    void jarContactStuck_isNoticedAtTheNextChangeOfJars() {
        SimulatedBench bench =
                agitating().until(State.COMPLETE, ofSeconds(30)).fail(Sensor.JARS, Fault.STUCK);
        bench.changeJars().press(Command.RESET).press(Command.START).scan();
        assertThat(bench.machine().refused())
                .extracting(Refusal::tag)
                .containsExactly("JAR-LEFT-BEHIND");
        bench.choose(Choice.SECOND_WASH).press(Command.START).scan();
        assertThat(bench.machine().refused()).extracting(Refusal::tag).containsExactly("JAR-STUCK");
    }

    @Test
    void tachometerStuckAtSpeed_isNoticedAtTheNextStart_andTurningTheShaftByHandClearsIt() {
        SimulatedBench bench = SimulatedBench.ready(Recipes.TWENTY_SECONDS);
        bench.plant().pushShaft(180);
        bench.advance(ofSeconds(1)).fail(Sensor.TACHOMETER, Fault.STUCK).plant().pushShaft(0);
        bench.start().until(State.COMPLETE, ofSeconds(30)).changeJars();
        bench.press(Command.RESET).press(Command.START).scan();
        assertThat(bench.machine().refused()).extracting(Refusal::tag).contains("TACHO-STUCK");
        bench.mend(Sensor.TACHOMETER).scan();
        assertThat(bench.machine().memory().tachoStuck()).isFalse();
    }

    @Test
    void soundTachometer_isNeverCalledStuck() {
        SimulatedBench bench = agitating().press(Command.STOP).until(State.STOPPED, ofSeconds(5));
        assertThat(bench.machine().memory().tachoStuck()).isFalse();
        SimulatedBench brief = SimulatedBench.running(Recipes.TWENTY_SECONDS).pressEStop().scan();
        assertThat(brief.machine().memory().tachoStuck()).as("hardly driven").isFalse();
    }

    @Test
    void jumpingWallClock_changesNoTimeOfACycle() {
        SimulatedBench bench = agitating().jumpWallClock(ofDays(400)).advance(ofSeconds(5));
        bench.jumpWallClock(ofDays(-900)).until(State.COMPLETE, ofSeconds(11));
        bench.takeJarsOut().advance(ofSeconds(1));
        assertThat(bench.onlyRecord().agitation()).isBetween(ofSeconds(20), ofMillis(20_010));
        assertThat(bench.onlyRecord().conforms()).isTrue();
    }

    @Test
    void uptimeThatRunsBackward_isAScanOverrun() {
        SimulatedBench bench = agitating();
        Inputs in = bench.inputs();
        Inputs earlier =
                new Inputs(
                        in.uptime_ns() - 1_000_000,
                        in.wallClock_ms(),
                        true,
                        Command.NONE,
                        Choice.NONE,
                        RemoteRequest.NONE,
                        in.readings(),
                        in.job(),
                        in.nextCycleId(),
                        in.durable(),
                        in.outbox(),
                        false);
        Machine after = Machine.step(bench.machine(), earlier);
        assertThat(after.state()).isEqualTo(State.HOLDING);
        assertThat(after.trips().active())
                .extracting(Interlock::tag)
                .containsExactly("SCAN-OVERRUN");
    }

    @Test
    void longHold_ofAMissingTachometer_stillEndsAsStandstillAfterTheCoast() {
        SimulatedBench bench = agitating().fail(Sensor.TACHOMETER, Fault.DISCONNECTED);
        bench.until(State.HELD, ofSeconds(4))
                .press(Command.STOP)
                .until(State.STOPPED, ofMillis(50));
        assertThat(bench.advance(ofMinutes(1)).state()).isEqualTo(State.STOPPED);
    }

    @Test
    void nothingReadAtAll_refusesEverythingThatNeedsASensor() {
        Machine m = Machine.boot(Settings.DEFAULTS, ProofRecord.NEVER);
        Inputs dark =
                new Inputs(
                        10_000_000,
                        0,
                        false,
                        Command.START,
                        Choice.NONE,
                        RemoteRequest.NONE,
                        Readings.NONE,
                        Job.of(Recipes.TWENTY_SECONDS),
                        new java.util.UUID(1, 1),
                        0,
                        OutboxState.WRITABLE,
                        false);
        Machine after = Machine.step(m, dark);
        assertThat(after.state()).isEqualTo(State.ABORTING);
        List<String> refused = after.refused().stream().map(Refusal::tag).toList();
        for (Sensor sensor : Sensor.values()) {
            assertThat(Interlocks.TABLE)
                    .anyMatch(row -> row.sensor() == sensor && refused.contains(row.tag()));
        }
        assertThat(Outputs.of(after).driveOn()).isFalse();
        assertThat(Outputs.of(after).supplyPermitted()).isFalse();
    }
}
