package org.evenwash.controller.process;

import static java.time.Duration.ofMillis;
import static java.time.Duration.ofMinutes;
import static java.time.Duration.ofSeconds;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.HashMap;
import java.util.Map;
import org.evenwash.controller.process.Meaning.Colour;
import org.evenwash.controller.sim.SimulatedBench;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

/** Lamps, sounder and words. */
class SignalsTest {
    @Test
    void everyMeaning_hasARhythmOfItsOwn_whereverOneStartsWatching() {
        Map<String, Meaning> seen = new HashMap<>();
        for (Meaning meaning : Meaning.values()) {
            assertThat(meaning.rhythm()).hasSize(20).matches("[#.]+").contains("#");
            String least = meaning.rhythm();
            for (int i = 1; i < 20; i++) {
                String turned = meaning.rhythm().substring(i) + meaning.rhythm().substring(0, i);
                least = turned.compareTo(least) < 0 ? turned : least;
            }
            assertThat(seen.put(least, meaning)).as("%s looks like", meaning).isNull();
            assertThat(meaning.words()).isNotBlank();
        }
    }

    @ParameterizedTest
    @CsvSource({
        "IDLE, READY, WHITE, false",
        "RUNNING, AGITATING, GREEN, false",
        "HOLDING, SLOWING, YELLOW, false",
        "HELD, HELD, YELLOW, true",
        "RESTARTING, HELD, YELLOW, false",
        "STOPPING, SLOWING, YELLOW, false",
        "STOPPED, STOPPED, YELLOW, true",
        "ABORTING, EMERGENCY, RED, false",
        "ABORTED, EMERGENCY, RED, true",
        "COMPLETE, COMPLETE, GREEN, true"
    })
    void lampOfAState(State state, Meaning meaning, Colour colour, boolean asks) {
        SimulatedBench bench = CycleStoriesTest.in(state);
        assertThat(bench.status().lamp()).isEqualTo(meaning);
        assertThat(meaning.colour()).isEqualTo(colour);
        assertThat(bench.status().needsOperator()).isEqualTo(asks);
    }

    @ParameterizedTest
    @EnumSource(Meaning.class)
    void lamps_showTheRhythm_andOnlyTheirColour(Meaning meaning) {
        for (int tick = 0; tick < 40; tick++) {
            boolean lit = meaning.lit(tick * 100_000_000L + 1);
            assertThat(lit).isEqualTo(meaning.rhythm().charAt(tick % 20) == '#');
        }
    }

    @Test
    void outputs_lightOneOfFourLamps_andBlueWhenSomeoneIsNeeded() {
        SimulatedBench bench = CycleStoriesTest.in(State.HELD);
        int yellow = 0;
        int blue = 0;
        for (int i = 0; i < 200; i++) {
            bench.scan();
            Outputs out = bench.outputs();
            assertThat(out.red() || out.green() || out.white()).isFalse();
            yellow += out.yellow() ? 1 : 0;
            blue += out.blue() ? 1 : 0;
        }
        assertThat(yellow).as("4 of 20 ticks of ten scans").isEqualTo(40);
        assertThat(blue).as("18 of 20").isEqualTo(180);
        assertThat(lit(CycleStoriesTest.in(State.RUNNING)).green()).isTrue();
        SimulatedBench idle = CycleStoriesTest.in(State.IDLE);
        int white = 0;
        for (int i = 0; i < 200; i++) {
            white += idle.scan().outputs().white() ? 1 : 0;
        }
        assertThat(white).isEqualTo(10);
        SimulatedBench aborted = CycleStoriesTest.in(State.ABORTED);
        int red = 0;
        for (int i = 0; i < 200; i++) {
            red += aborted.scan().outputs().red() ? 1 : 0;
        }
        assertThat(red).isEqualTo(100);
    }

    private static Outputs lit(SimulatedBench bench) {
        return bench.scan().outputs();
    }

    @Test
    void safetyTrip_showsTheHazardWhileHeld() {
        SimulatedBench bench = CycleStoriesTest.in(State.RUNNING).openLid();
        bench.until(State.HELD, ofSeconds(5));
        assertThat(bench.status().lamp()).isEqualTo(Meaning.HAZARD);
        assertThat(bench.status().cause()).isEqualTo("LID-OPEN");
        assertThat(bench.status().prompt()).startsWith("close the lid, re-arm the motor supply");
        bench.closeLid().rearm().advance(ofMillis(100));
        assertThat(bench.status().lamp()).isEqualTo(Meaning.HELD);
        assertThat(bench.status().prompt()).isEqualTo("press RESTART to go on, STOP to end");
    }

    @Test
    void restAndWait_haveTheirOwnLamps() {
        SimulatedBench bench = SimulatedBench.running(Recipes.TWO_MINUTES_IN_THREE_BOUTS);
        bench.advance(ofSeconds(41)).stallOutbox(true);
        assertThat(bench.status().lamp()).isEqualTo(Meaning.RESTING);
        assertThat(bench.status().bout()).isEqualTo(1);
        SimulatedBench waiting =
                SimulatedBench.ready(Recipes.TWENTY_SECONDS).stallOutbox(true).start();
        assertThat(waiting.status().lamp()).isEqualTo(Meaning.WAITING);
    }

    @Test
    void finished_soundsThreeNotes_thenRemindsOfTheJar_untilItIsOut() {
        SimulatedBench bench = CycleStoriesTest.in(State.COMPLETE);
        assertThat(bench.status().sound()).isEqualTo(Sound.FINISHED);
        assertThat(bench.outputs().sounder()).isTrue();
        bench.advance(ofSeconds(2));
        assertThat(bench.status().sound()).isEqualTo(Sound.SILENT);
        assertThat(bench.outputs().sounder()).isFalse();
        bench.advance(ofMinutes(3));
        assertThat(bench.status().sound()).isEqualTo(Sound.NEEDS_YOU);
        bench.takeJarsOut().advance(ofSeconds(1));
        assertThat(bench.status().sound()).isEqualTo(Sound.SILENT);
    }

    @Test
    void silence_lastsUntilTheNextState() {
        SimulatedBench bench = CycleStoriesTest.in(State.ABORTED);
        assertThat(bench.status().sound()).isEqualTo(Sound.FAULT);
        bench.choose(Choice.SILENCE).advance(ofSeconds(1));
        assertThat(bench.status().sound()).isEqualTo(Sound.SILENT);
        bench.releaseEStop().press(Command.RESET).scan();
        assertThat(bench.status().sound()).isEqualTo(Sound.SILENT);
        bench.pressEStop().scan();
        assertThat(bench.status().sound()).isEqualTo(Sound.FAULT);
        assertThat(CycleStoriesTest.in(State.HELD).status().sound()).isEqualTo(Sound.NEEDS_YOU);
        assertThat(CycleStoriesTest.in(State.STOPPED).status().sound()).isEqualTo(Sound.NEEDS_YOU);
    }

    @Test
    void status_tellsTimeLeftAndProgress() {
        SimulatedBench bench = SimulatedBench.ready(Recipes.TWO_MINUTES_IN_THREE_BOUTS);
        Status idle = bench.status();
        assertThat(idle.left()).isEqualTo(ofMinutes(3));
        assertThat(idle.bout()).isZero();
        assertThat(idle.bouts()).isEqualTo(3);
        assertThat(idle.againstStart()).isEmpty();
        assertThat(idle.cycleId()).isNull();
        assertThat(idle.prompt()).isEmpty();
        bench.start().advance(ofSeconds(10));
        Status agitating = bench.status();
        assertThat(agitating.left()).isEqualTo(ofSeconds(170));
        assertThat(agitating.boutAgitated()).isEqualTo(ofSeconds(10));
        assertThat(agitating.setpoint_rpm()).isEqualTo(180);
        assertThat(agitating.speed_rpm()).isBetween(175.0, 185.0);
        assertThat(agitating.cycleId()).isNotNull();
        bench.advance(ofSeconds(40));
        assertThat(bench.status().step()).isEqualTo(Step.REST);
        assertThat(bench.status().left()).isBetween(ofMillis(129_980), ofMillis(130_020));
        bench.advance(ofSeconds(25));
        assertThat(bench.status().bout()).isEqualTo(2);
        assertThat(bench.status().left()).isBetween(ofMillis(104_960), ofMillis(105_040));
        Status none = SimulatedBench.cold(Settings.DEFAULTS, 1).status();
        assertThat(none.left()).isZero();
        assertThat(none.recipe()).isNull();
        assertThat(none.againstStart())
                .extracting(Interlock::tag)
                .contains("NO-RECIPE", "CAUTIONS");
    }

    @Test
    void promptOfAnEndedCycle_saysWhatToDoNext() {
        assertThat(CycleStoriesTest.in(State.COMPLETE).status().prompt())
                .isEqualTo("take the jar out, then press RESET");
        assertThat(CycleStoriesTest.in(State.STOPPED).status().prompt()).isEqualTo("press RESET");
    }

    @Test
    void finished_isThreeWholeNotes_fromTheFirstScanOn_andThenSilence() {
        SimulatedBench bench = CycleStoriesTest.in(State.COMPLETE);
        StringBuilder heard = new StringBuilder();
        for (int tenth = 0; tenth < 22; tenth++) {
            heard.append(bench.outputs().sounder() ? '#' : '.');
            bench.advance(ofMillis(100));
        }
        assertThat(heard).hasToString("#####..#####..#####...");
    }

    @Test
    void jarsReminder_comesAtItsTime() {
        SimulatedBench bench = CycleStoriesTest.in(State.COMPLETE);
        bench.advance(ofMinutes(3).minusMillis(10));
        assertThat(bench.status().sound()).isEqualTo(Sound.SILENT);
        assertThat(bench.scan().status().sound()).isEqualTo(Sound.NEEDS_YOU);
    }

    @Test
    void redLamp_showsTheHazardsRhythm() {
        SimulatedBench bench = CycleStoriesTest.in(State.RUNNING).openLid();
        bench.until(State.HELD, ofSeconds(5));
        int red = 0;
        for (int i = 0; i < 200; i++) {
            red += bench.scan().outputs().red() ? 1 : 0;
        }
        assertThat(red).as("13 of 20 ticks of ten scans").isEqualTo(130);
    }

    @Test
    void status_tellsTimeSinceTheStart_andWhatIsLeftOfTheBout() {
        SimulatedBench bench = SimulatedBench.ready(Recipes.TWO_MINUTES_IN_THREE_BOUTS);
        assertThat(bench.status().elapsed()).isZero();
        assertThat(bench.status().boutLeft()).isZero();
        bench.start().advance(ofSeconds(10));
        assertThat(bench.status().elapsed()).isEqualTo(ofMillis(10_010));
        assertThat(bench.status().boutLeft()).isEqualTo(ofSeconds(30));
        bench.advance(ofSeconds(40));
        assertThat(bench.status().elapsed()).isEqualTo(ofMillis(50_010));
        assertThat(bench.status().boutLeft()).as("it rests").isZero();
        bench.press(Command.STOP).until(State.STOPPED, ofSeconds(5));
        assertThat(bench.status().elapsed()).isZero();
    }

    @Test
    void remedyOfARowThatHoldsAndRefuses_isSaidOnce() {
        SimulatedBench bench = CycleStoriesTest.in(State.RUNNING);
        bench.plant().dropSupply();
        bench.until(State.HELD, ofSeconds(5)).press(Command.RESTART);
        assertThat(bench.machine().refused())
                .extracting(Refusal::tag)
                .containsExactly("SUPPLY-OFF");
        assertThat(bench.status().prompt())
                .isEqualTo("press the reset button of the motor supply on the bench");
    }
}
