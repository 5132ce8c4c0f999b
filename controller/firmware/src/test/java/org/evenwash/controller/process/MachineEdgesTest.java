package org.evenwash.controller.process;

import static java.time.Duration.ofMillis;
import static java.time.Duration.ofSeconds;
import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import org.evenwash.controller.sim.Fault;
import org.evenwash.controller.sim.SimulatedBench;
import org.junit.jupiter.api.Test;

/** What meets in one and the same scan, and what lasts exactly so long. */
class MachineEdgesTest {
    private static SimulatedBench running() {
        return SimulatedBench.running(Recipes.TWENTY_SECONDS).advance(ofSeconds(5));
    }

    static SimulatedBench provenNow() {
        SimulatedBench bench = SimulatedBench.ready(Recipes.TWENTY_SECONDS);
        bench.choose(Choice.PROOF_TEST).pressEStop().advance(ofMillis(300));
        bench.releaseEStop().advance(ofMillis(2100)).press(Command.RESET).rearm();
        bench.advance(ofMillis(700)).openLid().advance(ofMillis(300));
        bench.closeLid().advance(ofMillis(2100)).rearm().advance(ofMillis(530 + 350 + 2100));
        bench.rearm();
        while (bench.machine().proof().step() != ProofTest.Step.PASSED) {
            bench.scan();
        }
        return bench;
    }

    @Test
    void resetInTheScanOfATrip_doesNotOutrunIt() {
        SimulatedBench bench = running().openLid().advance(ofMillis(50));
        assertThat(bench.state()).as("not for long enough yet").isEqualTo(State.RUNNING);
        bench.press(Command.RESET);
        assertThat(bench.state()).isEqualTo(State.HOLDING);
        SimulatedBench same = running().openLid().advance(ofMillis(40));
        while (same.state() == State.RUNNING) {
            same.keepDown(same.inputs().command() == Command.RESET ? Command.NONE : Command.RESET);
            same.scan();
        }
        assertThat(same.state()).isEqualTo(State.HOLDING);
        assertThat(same.machine().ending().first()).isEqualTo("LID-OPEN");
    }

    @Test
    void resetWhileTheEmergencyStopIsPressed_leavesItAborted() {
        SimulatedBench bench = running().pressEStop().until(State.ABORTED, ofSeconds(5));
        bench.press(Command.RESET).advance(ofMillis(100));
        assertThat(bench.state()).isEqualTo(State.ABORTED);
        bench.releaseEStop().scan().press(Command.RESET).scan();
        assertThat(bench.state()).isEqualTo(State.IDLE);
    }

    @Test
    void choiceKeptDown_countsOnce() {
        SimulatedBench bench = SimulatedBench.ready(Recipes.TWENTY_SECONDS);
        bench.keepDown(Command.NONE).choose(Choice.PROOF_TEST);
        bench.press(Command.STOP);
        assertThat(bench.machine().proof().failure()).isEqualTo(ProofTest.LEFT);
        // The same choice again counts only after it was let go in between.
        bench.choose(Choice.PROOF_TEST);
        assertThat(bench.machine().proof().active()).isTrue();
        assertThat(bench.machine().lastChoice()).isEqualTo(Choice.PROOF_TEST);
        assertThat(bench.scan().machine().lastChoice()).isEqualTo(Choice.NONE);
    }

    @Test
    void refusedProofTest_doesNotBegin_andTheReasonStaysUntilSomethingIsDone() {
        SimulatedBench bench = SimulatedBench.cold(Settings.DEFAULTS, 1);
        bench.choose(Choice.PROOF_TEST);
        assertThat(bench.machine().proof()).isEqualTo(ProofTest.NONE);
        assertThat(bench.machine().refused()).hasSize(1);
        bench.advance(ofSeconds(1));
        assertThat(bench.machine().refused()).hasSize(1);
    }

    @Test
    void silence_lastsUntilTheNextState_andMakesNoOtherStateSilent() {
        SimulatedBench bench = running().pressEStop().until(State.ABORTED, ofSeconds(5));
        assertThat(bench.machine().silenced()).isFalse();
        bench.choose(Choice.SILENCE);
        assertThat(bench.machine().silenced()).isTrue();
        assertThat(bench.advance(ofSeconds(3)).machine().silenced()).isTrue();
        assertThat(Signals.sound(bench.machine())).isEqualTo(Sound.SILENT);
        bench.releaseEStop().scan().press(Command.RESET);
        assertThat(bench.state()).isEqualTo(State.IDLE);
        assertThat(bench.machine().silenced()).isFalse();
    }

    @Test
    void heartbeat_changesInEveryScan() {
        SimulatedBench bench = SimulatedBench.ready(Recipes.TWENTY_SECONDS);
        for (int i = 0; i < 20; i++) {
            boolean before = bench.machine().heartbeat();
            assertThat(bench.scan().machine().heartbeat()).isEqualTo(!before);
        }
    }

    @Test
    void stateBegins_withTheScanThatEnteredIt_andTimeGoesOnInIt() {
        SimulatedBench bench = running();
        long began_ns = bench.machine().since_ns();
        assertThat(bench.scan().machine().since_ns()).isEqualTo(began_ns);
        bench.press(Command.HOLD);
        assertThat(bench.state()).isEqualTo(State.HOLDING);
        assertThat(bench.machine().since_ns()).isEqualTo(bench.inputs().uptime_ns());
        assertThat(bench.machine().uptime_ns()).isEqualTo(bench.inputs().uptime_ns());
    }

    @Test
    void passedProof_isShownForHalfAMinute_andNotAScanLonger() {
        SimulatedBench bench = provenNow();
        long passed_ns = bench.machine().proof().since_ns();
        while (bench.inputs().uptime_ns() - passed_ns < 29_990_000_000L) {
            bench.scan();
            assertThat(bench.status().prompt()).startsWith("Proof test passed.");
        }
        bench.scan();
        assertThat(bench.inputs().uptime_ns() - passed_ns).isEqualTo(30_000_000_000L);
        assertThat(bench.status().prompt()).doesNotContain("Proof test");
        assertThat(ProofTest.NONE.fresh(1)).as("none was made").isFalse();
    }

    @Test
    void passedProof_isRememberedOnce_andTheNextCyclesCount() {
        SimulatedBench bench = provenNow();
        ProofRecord proof = bench.machine().memory().proof();
        assertThat(proof.uptime_ns()).isEqualTo(bench.machine().proof().since_ns());
        bench.advance(ofSeconds(1));
        assertThat(bench.machine().memory().proof()).isEqualTo(proof);
        bench.start();
        assertThat(bench.machine().memory().proof().cyclesSince()).isEqualTo(1);
        bench.until(State.COMPLETE, Duration.ofMinutes(1));
        assertThat(bench.machine().memory().proof().cyclesSince()).isEqualTo(1);
    }

    @Test
    void proofLeftWithStop_changesNothingThatIsRemembered() {
        SimulatedBench bench = SimulatedBench.ready(Recipes.TWENTY_SECONDS);
        ProofRecord before = bench.machine().memory().proof();
        bench.choose(Choice.PROOF_TEST).press(Command.STOP).scan();
        assertThat(bench.machine().memory().proof()).isEqualTo(before);
    }

    @Test
    void faultSounds_untilSomeoneSilencesIt() {
        SimulatedBench bench = running().pressEStop().until(State.ABORTED, ofSeconds(5));
        for (int i = 0; i < 20; i++) {
            assertThat(bench.scan().machine().silenced()).isFalse();
        }
        bench.choose(Choice.SILENCE);
        for (int i = 0; i < 20; i++) {
            assertThat(bench.scan().machine().silenced()).isTrue();
        }
    }

    @Test
    void boutsAndRests_onAPunctualBench_takeNotAScanMoreThanPlanned() {
        SimulatedBench bench = SimulatedBench.running(Recipes.TWO_MINUTES_IN_THREE_BOUTS);
        bench.until(State.COMPLETE, Duration.ofMinutes(4)).changeJars();
        assertThat(bench.onlyRecord().bouts())
                .extracting(BoutEvidence::agitation)
                .containsOnly(ofSeconds(40));
        assertThat(bench.onlyRecord().bouts())
                .as("a rest that is none takes the one scan in which it is seen to be over")
                .extracting(BoutEvidence::rest)
                .containsExactly(ofSeconds(30), ofSeconds(30), ofMillis(10));
    }

    @Test
    void unseenShaft_countsAsStill_onlyOnceItsCoastIsOver() {
        SimulatedBench bench = running().fail(Sensor.TACHOMETER, Fault.DISCONNECTED);
        bench.until(State.HELD, ofSeconds(5));
        long off_ns = bench.machine().drive().since_ns();
        assertThat(Duration.ofNanos(bench.inputs().uptime_ns() - off_ns))
                .isEqualTo(Interlocks.COAST.plusMillis(10));
    }

    @Test
    void jarTakenOut_isBelievedAfter300ms_notAScanSooner() {
        SimulatedBench bench = running().until(State.COMPLETE, ofSeconds(20)).takeJarsOut();
        bench.advance(ofMillis(300));
        assertThat(bench.machine().memory().empty().seen()).isZero();
        assertThat(bench.scan().machine().memory().empty().seen()).isEqualTo(1);
    }

    @Test
    void positionsShakenOneAfterTheOther_addUpToNoEmptyPosition() {
        Settings two = Changed.settings(s -> s.positions = 2);
        SimulatedBench bench = SimulatedBench.ready(two, Job.of(Recipes.TWENTY_SECONDS), 1);
        bench.start().until(State.COMPLETE, ofSeconds(30)).plant().jar(1, false);
        bench.advance(ofMillis(200)).plant().jar(1, true);
        bench.plant().jar(2, false);
        bench.advance(ofMillis(200)).plant().jar(2, true);
        bench.advance(ofMillis(400));
        assertThat(bench.machine().memory().empty().seen()).isZero();
    }
}
