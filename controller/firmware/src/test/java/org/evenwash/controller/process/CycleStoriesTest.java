package org.evenwash.controller.process;

import static java.time.Duration.ofMillis;
import static java.time.Duration.ofMinutes;
import static java.time.Duration.ofSeconds;
import static org.assertj.core.api.Assertions.assertThat;
import static org.evenwash.controller.process.Command.HOLD;
import static org.evenwash.controller.process.Command.RESET;
import static org.evenwash.controller.process.Command.RESTART;
import static org.evenwash.controller.process.Command.START;
import static org.evenwash.controller.process.Command.STOP;
import static org.evenwash.controller.process.State.ABORTED;
import static org.evenwash.controller.process.State.COMPLETE;
import static org.evenwash.controller.process.State.HELD;
import static org.evenwash.controller.process.State.HOLDING;
import static org.evenwash.controller.process.State.IDLE;
import static org.evenwash.controller.process.State.RUNNING;
import static org.evenwash.controller.process.State.STOPPED;

import java.time.Duration;
import org.evenwash.controller.sim.SimulatedBench;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** What an operator sees, from the button to the record. */
class CycleStoriesTest {
    private static final Duration SCAN = ofMillis(10);

    @Test
    void resetAfterAnEnd_worksWithTheMotorSupplyOff_butTheNextStartWantsItArmed() {
        SimulatedBench bench = SimulatedBench.running(Recipes.TWENTY_SECONDS);
        bench.openLid().until(State.HELD, Duration.ofSeconds(5)).advance(ofSeconds(1)).closeLid();
        bench.press(Command.STOP).until(State.STOPPED, Duration.ofSeconds(5)).scan();
        assertThat(bench.outputs().supplyPermitted()).isTrue();
        assertThat(bench.machine().trips().demand()).as("SUPPLY-OFF still asks").isEqualTo(HOLD);
        bench.press(Command.RESET).scan();
        assertThat(bench.state()).isEqualTo(State.IDLE);
        bench.press(Command.START).scan();
        assertThat(bench.state()).isEqualTo(State.IDLE);
        assertThat(bench.machine().refused()).extracting(Refusal::tag).contains("SUPPLY-OFF");
    }

    @Test
    void twoMinutesInThreeBouts_runToTheEnd_andPlannedAndActualAgreeWithinOneScan() {
        SimulatedBench bench = SimulatedBench.ready(Recipes.TWO_MINUTES_IN_THREE_BOUTS).start();
        bench.until(COMPLETE, ofMinutes(4)).changeJars();

        CycleEvidence record = bench.onlyRecord();
        assertThat(record.outcome()).isEqualTo(Outcome.COMPLETE);
        assertThat(record.bouts()).hasSize(3);
        for (BoutEvidence bout : record.bouts()) {
            Duration off = bout.agitation().minus(bout.planned().agitation()).abs();
            assertThat(off).isLessThanOrEqualTo(SCAN);
            assertThat(bout.rest())
                    .isBetween(bout.planned().rest(), bout.planned().rest().plus(SCAN));
            assertThat(bout.speed().mean()).isBetween(175.0, 185.0);
        }
        assertThat(record.agitation().minus(ofMinutes(2)).abs()).isLessThanOrEqualTo(ofMillis(30));
        assertThat(record.conformity()).allSatisfy(p -> assertThat(p.held()).as("%s", p).isTrue());
        assertThat(record.conforms()).isTrue();
    }

    @Test
    void lidOpenedWhileRunning_holds_andClosingItDoesNotRestart() {
        SimulatedBench bench =
                SimulatedBench.running(Recipes.TWENTY_SECONDS).advance(ofSeconds(10));
        bench.openLid().advance(ofSeconds(5));
        assertThat(bench.state()).isEqualTo(HELD);
        bench.closeLid().advance(ofSeconds(5));
        assertThat(bench.state()).isEqualTo(HELD);
        bench.press(RESTART);
        assertThat(bench.state()).as("the motor supply is not armed").isEqualTo(HELD);
        assertThat(bench.machine().refused())
                .extracting(Refusal::tag)
                .containsExactly("SUPPLY-OFF");
        bench.rearm().advance(SCAN).press(RESTART).advance(ofMillis(20));
        assertThat(bench.state()).isEqualTo(RUNNING);
        assertThat(bench.until(COMPLETE, ofSeconds(15)).state()).isEqualTo(COMPLETE);
        bench.takeJarsOut().advance(ofSeconds(1));

        CycleEvidence record = bench.onlyRecord();
        assertThat(record.agitation().minus(ofSeconds(20)).abs()).isLessThanOrEqualTo(ofMillis(20));
        assertThat(record.interruptions()).hasSize(1);
        assertThat(record.interruptions().get(0).cause()).isEqualTo("LID-OPEN");
        assertThat(record.interruptions().get(0).length()).isBetween(ofSeconds(9), ofSeconds(11));
        assertThat(record.conforms()).isFalse();
    }

    @Test
    void emergencyStop_cutsTheDriveInTheSameScan() {
        SimulatedBench bench = SimulatedBench.running(Recipes.TWENTY_SECONDS).advance(ofSeconds(5));
        assertThat(bench.outputs().duty()).isPositive();
        bench.pressEStop().scan();
        assertThat(bench.outputs().driveOn()).isFalse();
        assertThat(bench.outputs().supplyPermitted()).isFalse();
        bench.until(ABORTED, ofSeconds(4)).advance(ofMillis(100));
        assertThat(bench.plant().contactorClosed()).isFalse();
    }

    @ParameterizedTest
    @EnumSource(State.class)
    void emergencyStopInEveryState_endsInAbortedWithTheMotorOff(State state) {
        SimulatedBench bench = in(state);
        bench.pressEStop().scan();
        assertThat(bench.outputs().driveOn()).isFalse();
        bench.advance(ofSeconds(5));
        assertThat(bench.state()).isEqualTo(ABORTED);
        assertThat(bench.plant().motorPowered()).isFalse();
        assertThat(bench.plant().shaft_rpm()).isZero();
        bench.press(RESET).advance(SCAN);
        assertThat(bench.state()).as("reset while still pressed").isEqualTo(ABORTED);
        bench.releaseEStop().advance(ofSeconds(1));
        assertThat(bench.state()).as("releasing resets nothing").isEqualTo(ABORTED);
        bench.press(RESET).advance(ofSeconds(1));
        assertThat(bench.state()).isEqualTo(IDLE);
        assertThat(bench.plant().contactorClosed()).as("nor does it re-arm").isFalse();
    }

    /** A bench brought into this state the way an operator would. */
    static SimulatedBench in(State state) {
        SimulatedBench ready = SimulatedBench.ready(Recipes.TWENTY_SECONDS);
        if (state == IDLE) {
            return ready;
        }
        SimulatedBench running = ready.start().advance(ofSeconds(5));
        SimulatedBench there =
                switch (state) {
                    case IDLE, RUNNING -> running;
                    case HOLDING -> running.press(HOLD);
                    case HELD -> running.press(HOLD).until(HELD, ofSeconds(5));
                    case RESTARTING -> running.press(HOLD).until(HELD, ofSeconds(5)).press(RESTART);
                    case STOPPING -> running.press(STOP);
                    case STOPPED -> running.press(STOP).until(STOPPED, ofSeconds(5));
                    case COMPLETE -> running.until(COMPLETE, ofSeconds(20));
                    case ABORTING -> running.pressEStop().scan();
                    case ABORTED -> running.pressEStop().until(ABORTED, ofSeconds(5));
                };
        assertThat(there.state()).isEqualTo(state);
        return there;
    }

    @Test
    void heldByTheOperator_rampsDownAndResumesTheRemainingTime() {
        SimulatedBench bench = SimulatedBench.running(Recipes.TWENTY_SECONDS).advance(ofSeconds(8));
        bench.press(HOLD);
        assertThat(bench.state()).isEqualTo(HOLDING);
        assertThat(bench.outputs().driveOn()).as("a process hold ramps down").isTrue();
        bench.advance(ofMillis(1600));
        assertThat(bench.outputs().driveOn()).as("in bounded time").isFalse();
        bench.until(HELD, ofSeconds(3)).advance(ofSeconds(20)).press(RESTART);
        Duration left = bench.advance(SCAN).status().left();
        assertThat(left).isBetween(ofMillis(10_400), ofMillis(10_600));
        bench.until(COMPLETE, ofSeconds(11)).takeJarsOut().advance(ofSeconds(1));
        CycleEvidence record = bench.onlyRecord();
        assertThat(record.agitation().minus(ofSeconds(20)).abs()).isLessThanOrEqualTo(ofMillis(20));
        assertThat(record.interruptions())
                .extracting(Interruption::cause)
                .containsExactly("OPERATOR");
    }

    @Test
    void heldLongerThanTheRecipeAllows_endsInStopped_andTheRecordSaysSo() {
        SimulatedBench bench = SimulatedBench.running(Recipes.TWENTY_SECONDS).advance(ofSeconds(5));
        bench.press(HOLD).advance(ofSeconds(119));
        assertThat(bench.state()).isEqualTo(HELD);
        bench.advance(ofSeconds(3));
        assertThat(bench.state()).isEqualTo(STOPPED);
        bench.takeJarsOut().advance(ofSeconds(1));
        CycleEvidence record = bench.onlyRecord();
        assertThat(record.outcome()).isEqualTo(Outcome.STOPPED);
        assertThat(record.endedBy()).isEqualTo("HOLD-TOO-LONG");
        assertThat(record.interruptions()).hasSize(1);
        assertThat(record.agitation()).isBetween(ofSeconds(5), ofMillis(6600));
        assertThat(record.conformity().get(0).evidence()).isEqualTo("STOPPED by HOLD-TOO-LONG");
    }

    @Test
    void heldAndStoppedFromAfar_isObeyed_butNothingFromAfarStarts() {
        SimulatedBench bench = SimulatedBench.running(Recipes.TWENTY_SECONDS).advance(ofSeconds(5));
        bench.ask(RemoteRequest.HOLD).scan();
        assertThat(bench.state()).isEqualTo(HOLDING);
        bench.until(HELD, ofSeconds(5)).ask(RemoteRequest.STOP).scan().until(STOPPED, ofSeconds(5));
        assertThat(bench.machine().ending().by()).isEqualTo("REMOTE");
        assertThat(RemoteRequest.values())
                .extracting(RemoteRequest::command)
                .doesNotContain(START, RESTART, RESET);
    }

    @Test
    void stopped_isFinalUntilReset_andASecondStartNeedsTheJarOut() {
        SimulatedBench bench = SimulatedBench.running(Recipes.TWENTY_SECONDS).advance(ofSeconds(5));
        bench.press(STOP).until(STOPPED, ofSeconds(5)).press(START).advance(ofSeconds(1));
        assertThat(bench.state()).isEqualTo(STOPPED);
        bench.press(RESET).advance(SCAN).press(START).advance(SCAN);
        assertThat(bench.state()).isEqualTo(IDLE);
        assertThat(bench.machine().refused())
                .extracting(Refusal::tag)
                .containsExactly("JAR-LEFT-BEHIND", "LID-STUCK");
        bench.changeJars().press(START).advance(SCAN);
        assertThat(bench.state()).isEqualTo(RUNNING);
    }

    @Test
    void startHeldDown_startsOnce_andNotAgainAfterReset() {
        SimulatedBench bench = SimulatedBench.ready(Recipes.TWENTY_SECONDS);
        bench.keepDown(START).advance(ofSeconds(30));
        assertThat(bench.state()).isEqualTo(COMPLETE);
        bench.changeJars().advance(ofSeconds(1));
        assertThat(bench.state()).isEqualTo(COMPLETE);
    }

    @Test
    void outboxSlow_keepsTheMotorOff_andHoldsAfterFiveSeconds() {
        SimulatedBench bench =
                SimulatedBench.ready(Recipes.TWO_MINUTES_IN_THREE_BOUTS).stallOutbox(true);
        bench.start().advance(ofMillis(4900));
        assertThat(bench.state()).isEqualTo(RUNNING);
        assertThat(bench.status().step()).isEqualTo(Step.WAIT);
        assertThat(bench.outputs().driveOn()).isFalse();
        bench.advance(ofMillis(200)).until(HELD, ofSeconds(5));
        assertThat(bench.machine().ending().first()).isEqualTo("OUTBOX-SLOW");
        bench.press(RESTART).advance(SCAN);
        assertThat(bench.state()).isEqualTo(HELD);
        bench.stallOutbox(false).advance(SCAN).press(RESTART).advance(ofMillis(30));
        assertThat(bench.status().step()).isEqualTo(Step.AGITATE);
        bench.stallOutbox(true).advance(ofSeconds(75));
        assertThat(bench.status().step()).as("second boundary not durable").isEqualTo(Step.WAIT);
    }

    @Test
    void outboxSlow_neverDelaysAStop() {
        SimulatedBench bench =
                SimulatedBench.running(Recipes.TWENTY_SECONDS)
                        .advance(ofSeconds(3))
                        .stallOutbox(true);
        bench.press(STOP).until(STOPPED, ofSeconds(4));
    }

    @Test
    void shuttingDown_stopsAndRecordsAtOnce() {
        SimulatedBench bench = SimulatedBench.running(Recipes.TWENTY_SECONDS).advance(ofSeconds(5));
        bench.shutDown().until(STOPPED, ofSeconds(5));
        CycleEvidence record = bench.onlyRecord();
        assertThat(record.endedBy()).isEqualTo("SHUTTING-DOWN");
        assertThat(record.soaks()).extracting(Soak::removed).containsExactly(false);
    }

    @Test
    void restart_isRefusedWhileALidIsOpen_evenBeforeItsRowTrips() {
        SimulatedBench bench = in(HELD).openLid().scan();
        assertThat(bench.machine().trips().active("LID-OPEN")).isFalse();
        bench.press(RESTART);
        assertThat(bench.state()).isEqualTo(HELD);
        assertThat(bench.machine().refused()).extracting(Refusal::tag).contains("LID-OPEN");
    }

    @Test
    void eventsWithinACycle_carryItsId_othersNone() {
        SimulatedBench bench = SimulatedBench.running(Recipes.TWENTY_SECONDS).advance(ofSeconds(2));
        bench.openLid().until(HELD, ofSeconds(5));
        assertThat(bench.events())
                .filteredOn(e -> e.kind() == Entry.Kind.TRIP)
                .extracting(Entry.BenchEvent::cycleId)
                .containsOnly(bench.machine().cycleId());
        assertThat(bench.events().get(0).cycleId()).as("cautions, before the cycle").isNull();
    }

    @Test
    void interruption_saysWhenAndInWhichBout() {
        SimulatedBench bench = SimulatedBench.running(Recipes.TWO_MINUTES_IN_THREE_BOUTS);
        bench.advance(ofSeconds(80)).press(HOLD).until(HELD, ofSeconds(5)).press(STOP);
        bench.until(STOPPED, ofSeconds(1)).takeJarsOut().advance(ofSeconds(1));
        Interruption hold = bench.onlyRecord().interruptions().get(0);
        assertThat(hold.bout()).isEqualTo(2);
        assertThat(hold.at()).isBetween(ofSeconds(80), ofMillis(80_050));
        assertThat(hold.length()).isBetween(ofMillis(1500), ofSeconds(3));
        assertThat(bench.onlyRecord().bouts()).hasSize(2);
        assertThat(bench.onlyRecord().endedBy()).isEqualTo("OPERATOR");
        assertThat(bench.onlyRecord().conformity())
                .contains(
                        new ConformityPoint("ran to its end", false, "STOPPED by OPERATOR"),
                        new ConformityPoint("all bouts", false, "2 of 3"),
                        new ConformityPoint("not interrupted", false, "OPERATOR"));
    }

    @Test
    void restartedCycle_climbsItsRampAgain() {
        SimulatedBench bench = in(HELD).press(RESTART);
        while (!bench.outputs().driveOn()) {
            bench.scan();
        }
        assertThat(bench.status().setpoint_rpm()).isZero();
        assertThat(bench.advance(ofMillis(750)).status().setpoint_rpm()).isEqualTo(90);
        assertThat(bench.advance(ofMillis(740)).status().setpoint_rpm()).isLessThan(180);
        assertThat(bench.scan().status().setpoint_rpm()).isEqualTo(180);
    }
}
