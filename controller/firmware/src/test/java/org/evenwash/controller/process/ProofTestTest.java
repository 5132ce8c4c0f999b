package org.evenwash.controller.process;

import static java.time.Duration.ofMillis;
import static java.time.Duration.ofSeconds;
import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.util.List;
import org.evenwash.controller.process.ProofTest.Step;
import org.evenwash.controller.sim.SimulatedBench;
import org.junit.jupiter.api.Test;

/** The guided test of the stop chain, and when it is due. */
class ProofTestTest {
    /** Bench with the test begun. */
    private static SimulatedBench begun() {
        SimulatedBench bench = SimulatedBench.ready(Recipes.TWENTY_SECONDS);
        bench.choose(Choice.PROOF_TEST);
        assertThat(step(bench)).isEqualTo(Step.PRESS_E_STOP);
        return bench;
    }

    private static Step step(SimulatedBench bench) {
        return bench.machine().proof().step();
    }

    /** What is kept of the test's end: once, and nothing of the steps before it. */
    private static List<String> ends(SimulatedBench bench) {
        return bench.events().stream()
                .filter(e -> e.kind().name().startsWith("PROOF_TEST"))
                .map(e -> e.kind() + ": " + e.text())
                .toList();
    }

    private static SimulatedBench toOpenLid() {
        SimulatedBench bench = begun().pressEStop().advance(ofMillis(300));
        assertThat(step(bench)).isEqualTo(Step.RELEASE_E_STOP);
        bench.releaseEStop().advance(ofMillis(2100));
        assertThat(step(bench)).isEqualTo(Step.REARM_AFTER_E_STOP);
        bench.press(Command.RESET).rearm().advance(ofMillis(700));
        assertThat(step(bench)).isEqualTo(Step.OPEN_LID);
        return bench;
    }

    private static SimulatedBench toStopHeartbeat() {
        SimulatedBench bench = toOpenLid().openLid().advance(ofMillis(300));
        assertThat(step(bench)).isEqualTo(Step.CLOSE_LID);
        bench.closeLid().advance(ofMillis(2100));
        assertThat(step(bench)).isEqualTo(Step.REARM_AFTER_LID);
        bench.rearm().advance(ofMillis(530));
        assertThat(step(bench)).isEqualTo(Step.STOP_HEARTBEAT);
        return bench;
    }

    @Test
    void everyPartOfTheChainDropsTheContactor_passes_andIsRemembered() {
        SimulatedBench bench = toStopHeartbeat();
        boolean level = bench.outputs().heartbeat();
        bench.advance(ofMillis(100));
        assertThat(bench.outputs().heartbeat()).as("silent").isEqualTo(level);
        bench.advance(ofMillis(250));
        assertThat(step(bench)).isEqualTo(Step.HEARTBEAT_BACK);
        bench.advance(ofMillis(2100));
        assertThat(step(bench)).isEqualTo(Step.REARM_AFTER_ONE_SHOT);
        assertThat(bench.status().prompt()).isEqualTo("Re-arm the motor supply.");
        bench.rearm().advance(ofMillis(600));
        assertThat(step(bench)).isEqualTo(Step.PASSED);
        assertThat(ends(bench)).containsExactly("PROOF_TEST_PASSED: Proof test passed.");
        assertThat(bench.machine().memory().proof().uptime_ns()).isPositive();
        assertThat(bench.machine().memory().proof().cyclesSince()).isZero();
        bench.clockSynchronised(false).press(Command.START).scan();
        assertThat(bench.state())
                .as("proven in this boot, no clock needed")
                .isEqualTo(State.RUNNING);
    }

    @Test
    void weldedContactor_failsAtTheEmergencyStop() {
        SimulatedBench bench = begun();
        bench.plant().weldContactor(true);
        bench.pressEStop().advance(ofMillis(520));
        assertThat(step(bench)).isEqualTo(Step.FAILED);
        assertThat(bench.machine().proof().failure())
                .isEqualTo("the emergency stop did not open the contactor");
        assertThat(ends(bench))
                .containsExactly(
                        "PROOF_TEST_FAILED: the emergency stop did not open the contactor");
    }

    @Test
    void failedTest_voidsTheEarlierProof_untilOnePasses_andIsShown() {
        SimulatedBench bench = toOpenLid();
        assertThat(bench.machine().memory().proof().passed()).as("yesterday's").isTrue();
        bench.plant().weldContactor(true);
        bench.openLid().advance(ofMillis(520));
        assertThat(bench.machine().memory().proof()).isEqualTo(ProofRecord.NEVER);
        assertThat(bench.machine().memory().proof().due(Settings.DEFAULTS, bench.inputs()))
                .isTrue();
        SimulatedBench silent = toStopHeartbeat();
        silent.plant().weldContactor(true);
        silent.advance(ofMillis(530));
        assertThat(silent.status().prompt())
                .startsWith(
                        "Proof test failed. Do not use the bench until it passes. Why: the one-shot did not");
    }

    @Test
    void passedTest_isShownForHalfAMinute() {
        SimulatedBench bench =
                toStopHeartbeat().advance(ofMillis(350)).advance(ofMillis(2100)).rearm();
        bench.advance(ofMillis(600));
        assertThat(step(bench)).isEqualTo(Step.PASSED);
        assertThat(bench.status().prompt()).isEqualTo("Proof test passed.");
        bench.advance(ofSeconds(30));
        assertThat(bench.status().prompt()).isEmpty();
    }

    @Test
    void weldedContactor_failsAtTheLid() {
        SimulatedBench bench = toOpenLid();
        bench.plant().weldContactor(true);
        bench.openLid().advance(ofMillis(520));
        assertThat(bench.machine().proof().failure())
                .isEqualTo("the lid did not open the contactor");
    }

    @Test
    void oneShotThatDoesNotTimeOut_fails() {
        SimulatedBench bench = toStopHeartbeat();
        bench.plant().weldContactor(true);
        bench.advance(ofMillis(530));
        assertThat(bench.machine().proof().failure())
                .isEqualTo("the one-shot did not open the contactor when the heartbeat stopped");
    }

    @Test
    void contactorThatComesBackByItself_fails() {
        SimulatedBench bench = begun().pressEStop().advance(ofMillis(300));
        bench.releaseEStop().advance(ofMillis(500));
        bench.plant().weldContactor(true);
        bench.scan();
        assertThat(bench.machine().proof().failure())
                .isEqualTo("the contactor came back before the motor supply was re-armed");
        bench = toOpenLid().openLid().advance(ofMillis(300)).closeLid().advance(ofMillis(100));
        bench.plant().weldContactor(true);
        bench.scan();
        assertThat(bench.machine().proof().failure()).contains("came back before");
        bench = toStopHeartbeat().advance(ofMillis(350));
        assertThat(step(bench)).isEqualTo(Step.HEARTBEAT_BACK);
        bench.rearm().scan();
        assertThat(bench.machine().proof().failure())
                .isEqualTo("the contactor came back with the heartbeat");
    }

    @Test
    void nobodyAnswers_failsAfterAMinute() {
        SimulatedBench bench = begun().advance(ofMillis(59_900));
        assertThat(step(bench)).isEqualTo(Step.PRESS_E_STOP);
        bench.advance(ofMillis(200));
        assertThat(bench.machine().proof().failure())
                .isEqualTo("no answer in time to: Press the emergency stop.");
    }

    @Test
    void stop_leavesTheTest() {
        SimulatedBench bench = begun().press(Command.STOP);
        assertThat(bench.machine().proof().failure()).isEqualTo("left with STOP");
        assertThat(bench.machine().memory().proof().passed()).as("yesterday's stands").isTrue();
        assertThat(begun().shutDown().scan().machine().proof().step()).isEqualTo(Step.FAILED);
    }

    @Test
    void releasedTooEarly_asksAgain() {
        SimulatedBench bench = begun().pressEStop().advance(ofMillis(100)).releaseEStop();
        bench.advance(ofSeconds(1));
        assertThat(step(bench)).isEqualTo(Step.PRESS_E_STOP);
    }

    @Test
    void motorNeverRunsMeanwhile_andTheTestNeedsAnArmedIdleBench() {
        SimulatedBench bench = begun().press(Command.START).scan();
        assertThat(bench.machine().refused())
                .extracting(Refusal::tag)
                .containsExactly("PROOF-TEST-RUNNING");
        SimulatedBench unarmed = SimulatedBench.cold(Settings.DEFAULTS, 1);
        unarmed.choose(Choice.PROOF_TEST);
        assertThat(step(unarmed)).isEqualTo(Step.NONE);
        assertThat(unarmed.machine().refused())
                .extracting(Refusal::reason)
                .containsExactly(
                        "the motor supply is not armed, so nothing can be seen to drop it");
        SimulatedBench busy = SimulatedBench.running(Recipes.TWENTY_SECONDS);
        busy.choose(Choice.PROOF_TEST);
        assertThat(step(busy)).isEqualTo(Step.NONE);
        assertThat(busy.state()).isEqualTo(State.RUNNING);
        assertThat(busy.machine().refused()).hasSize(1);
    }

    @Test
    void due_byCyclesDaysAndClock() {
        Settings s = Settings.DEFAULTS;
        Inputs now = SimulatedBench.ready(Recipes.TWENTY_SECONDS).inputs();
        long at = now.wallClock_ms();
        long days = s.safety().proofTestEvery().toMillis();
        assertThat(ProofRecord.NEVER.due(s, now)).isTrue();
        assertThat(ProofRecord.earlier(at, true, 0).due(s, now)).isFalse();
        assertThat(ProofRecord.earlier(at - days, true, 99).due(s, now)).isFalse();
        assertThat(ProofRecord.earlier(at - days - 1, true, 0).due(s, now)).isTrue();
        assertThat(ProofRecord.earlier(at, true, 100).due(s, now)).isTrue();
        assertThat(ProofRecord.earlier(at, false, 0).due(s, now)).as("label unvouched").isTrue();
        assertThat(ProofRecord.earlier(at + 1, true, 0).due(s, now)).as("backward clock").isTrue();
        Inputs unsynchronised =
                SimulatedBench.ready(Recipes.TWENTY_SECONDS)
                        .clockSynchronised(false)
                        .scan()
                        .inputs();
        assertThat(ProofRecord.earlier(at, true, 0).due(s, unsynchronised)).isTrue();
        ProofRecord here = ProofRecord.passedNow(unsynchronised);
        assertThat(here.due(s, unsynchronised)).as("by uptime").isFalse();
        long later_ns = unsynchronised.uptime_ns() + Duration.ofMillis(days).toNanos();
        assertThat(here.due(s, at(unsynchronised, later_ns))).isFalse();
        assertThat(here.due(s, at(unsynchronised, later_ns + 1))).isTrue();
        assertThat(here.cycleStarted().cyclesSince()).isEqualTo(1);
    }

    private static Inputs at(Inputs in, long uptime_ns) {
        return new Inputs(
                uptime_ns,
                in.wallClock_ms(),
                in.clockSynchronised(),
                in.command(),
                in.choice(),
                in.remote(),
                in.readings(),
                in.job(),
                in.nextCycleId(),
                in.durable(),
                in.outbox(),
                in.closing());
    }

    @Test
    void eachStep_takesExactlyItsTime() {
        SimulatedBench bench = begun().pressEStop();
        assertThat(lasts(bench)).as("open for 200 ms").isEqualTo(ofMillis(200));
        bench.releaseEStop();
        assertThat(lasts(bench)).as("stays open for 2 s").isEqualTo(ofSeconds(2));
        bench.press(Command.RESET).rearm();
        assertThat(lasts(bench)).as("armed for 500 ms").isEqualTo(ofMillis(500));
        assertThat(step(bench)).isEqualTo(Step.OPEN_LID);
        bench.plant().weldContactor(true);
        bench.openLid();
        assertThat(lasts(bench)).as("500 ms to drop out").isEqualTo(ofMillis(510));
        assertThat(step(bench)).isEqualTo(Step.FAILED);
        SimulatedBench alone = begun();
        long began_ns = alone.machine().proof().since_ns();
        while (step(alone) != Step.FAILED) {
            alone.scan();
        }
        assertThat(alone.machine().proof().since_ns() - began_ns)
                .as("a minute for an answer")
                .isEqualTo(ofMillis(60_010).toNanos());
    }

    /** From the scan that sees what the step waits for to the scan that ends the step. */
    private static Duration lasts(SimulatedBench bench) {
        Step now = step(bench);
        bench.scan();
        long seen_ns = bench.inputs().uptime_ns();
        while (step(bench) == now) {
            bench.scan();
        }
        return Duration.ofNanos(bench.inputs().uptime_ns() - seen_ns);
    }

    @Test
    void startInTheScanOfProofTest_startsNothing() {
        SimulatedBench bench = SimulatedBench.ready(Recipes.TWENTY_SECONDS);
        bench.keepDown(Command.START).choose(Choice.PROOF_TEST).keepDown(Command.NONE);
        assertThat(step(bench)).isEqualTo(Step.PRESS_E_STOP);
        assertThat(bench.state()).isEqualTo(State.IDLE);
        assertThat(bench.advance(ofSeconds(3)).plant().motorPowered()).isFalse();

        SimulatedBench empty = SimulatedBench.ready(Settings.DEFAULTS, Job.NONE, 1);
        empty.keepDown(Command.START).choose(Choice.PROOF_TEST);
        assertThat(empty.state()).as("nothing is loaded").isEqualTo(State.IDLE);
    }
}
