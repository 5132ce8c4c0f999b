package org.evenwash.controller.pi4j;

import static org.assertj.core.api.Assertions.assertThat;
import static org.evenwash.controller.pi4j.Finding.Trouble.BUSY_LINE;
import static org.evenwash.controller.pi4j.Finding.Trouble.DEAD_LINE;
import static org.evenwash.controller.pi4j.Finding.Trouble.DUPLICATE_LINE;
import static org.evenwash.controller.pi4j.Finding.Trouble.FLOATING_LINE;
import static org.evenwash.controller.pi4j.Finding.Trouble.INVERTED_POLARITY;
import static org.evenwash.controller.pi4j.Finding.Trouble.MOTOR_SUPPLY_ON;
import static org.evenwash.controller.pi4j.Finding.Trouble.NOT_AT_REST;
import static org.evenwash.controller.pi4j.Finding.Trouble.OUTPUT_NOT_SEEN;
import static org.evenwash.controller.pi4j.Finding.Trouble.SWAPPED_LINES;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.Predicate;
import org.evenwash.controller.pi4j.PinMap.Pin;
import org.junit.jupiter.api.Test;

class CheckProcedureTest {
    private static final PinMap MAP = PinMap.DEFAULT;

    private final FakeLines lines = FakeLines.atRest(MAP);

    /** Does at once what it is told, on the wires as they really are; sees what its eyes are given. */
    private final class Hand implements CheckProcedure.Builder {
        private final PinMap wires;
        private final Predicate<String> eyes;
        private final List<String> asked = new ArrayList<>();
        private Pin moved;

        Hand(PinMap wires, Predicate<String> eyes) {
            this.wires = wires;
            this.eyes = eyes;
        }

        @Override
        public void show(String line) {
            asked.add(line);
        }

        @Override
        public void instruct(String what) {
            if (what.equals("Put it back.")) {
                toggle();
                moved = null;
                return;
            }
            moved =
                    wires.pins().stream()
                            .filter(pin -> what.equals("Now " + pin.signal().trial() + "."))
                            .findFirst()
                            .orElseThrow();
            toggle();
        }

        private void toggle() {
            if (lines.held(moved.gpio()) != null) {
                lines.hold(moved.gpio(), lines.held(moved.gpio()).inverted());
            }
        }

        @Override
        public boolean confirms(String question) {
            asked.add(question);
            return eyes.test(question);
        }
    }

    /** Waiting only moves the clock. */
    private static CheckProcedure procedure(
            FakeLines lines, PinMap map, CheckProcedure.Builder builder) {
        AtomicLong now_ns = new AtomicLong();
        return new CheckProcedure(lines, map, builder, now_ns::get, now_ns::addAndGet);
    }

    private CheckProcedure procedure(CheckProcedure.Builder builder) {
        return procedure(lines, MAP, builder);
    }

    private Hand hand() {
        return new Hand(MAP, question -> true);
    }

    @Test
    void rightWiring_hasNothingWrong() {
        var check = procedure(hand());
        assertThat(check.alone()).isEmpty();
        assertThat(check.inputs()).isEmpty();
        assertThat(check.outputs()).isEmpty();
    }

    @Test
    void liveView_showsEveryInputInWords() {
        var check = procedure(hand());
        check.alone();
        assertThat(check.live())
                .contains(
                        "LID=closed", "CONTACTOR=open", "START_BUTTON=released", "TACHOMETER=high");
        lines.hold(6, Level.LOW);
        assertThat(check.live()).contains("LID=open");
    }

    @Test
    void lidAndJarExchanged_areNamedAsAPair() {
        // The builder put the lid's wire on the jar's pin and the other way round.
        PinMap wires =
                MAP.with(new Pin(Signal.LID, 7, Level.HIGH, Pull.DOWN))
                        .with(new Pin(Signal.JAR_1, 6, Level.HIGH, Pull.DOWN));
        var check = procedure(new Hand(wires, question -> true));
        assertThat(check.alone()).isEmpty();
        assertThat(check.inputs())
                .hasSize(2)
                .allSatisfy(finding -> assertThat(finding.trouble()).isEqualTo(SWAPPED_LINES))
                .first()
                .satisfies(
                        finding ->
                                assertThat(finding.toString())
                                        .contains(
                                                "lid read-back", "jar 1 locked", "GPIO6", "GPIO7"));
    }

    @Test
    void contactOfTheWrongKind_isFoundAtRestAndWhenMoved() {
        lines.hold(6, Level.LOW); // closed when the lid is open
        var check = procedure(hand());
        assertThat(check.alone()).isEmpty();
        assertThat(check.inputs())
                .extracting(Finding::trouble)
                .containsExactly(NOT_AT_REST, INVERTED_POLARITY);
    }

    @Test
    void wireCut_isFoundAsFloating_andWhenMovedAsDead() {
        lines.cut(5);
        var check = procedure(hand());
        assertThat(check.alone())
                .singleElement()
                .satisfies(finding -> assertThat(finding.trouble()).isEqualTo(FLOATING_LINE))
                .satisfies(
                        finding ->
                                assertThat(finding.toString())
                                        .contains("GPIO5", "10 kΩ", "ground"));
        assertThat(check.ready()).as("the other lines can still be tried").isTrue();
        assertThat(check.inputs())
                .extracting(Finding::trouble)
                .containsExactly(NOT_AT_REST, DEAD_LINE);
    }

    @Test
    void busyLine_namesItsHolder() {
        lines.occupy(17, "w1-gpio");
        assertThat(procedure(hand()).alone())
                .singleElement()
                .satisfies(finding -> assertThat(finding.trouble()).isEqualTo(BUSY_LINE))
                .satisfies(
                        finding ->
                                assertThat(finding.what())
                                        .contains("GPIO17", "w1-gpio", "heartbeat"));
    }

    @Test
    void duplicateLine_isFoundBeforeAnyLineIsTouched() {
        PinMap map = MAP.with(new Pin(Signal.LID, 5, Level.HIGH, Pull.DOWN));
        var check = procedure(lines, map, hand());
        assertThat(check.alone())
                .singleElement()
                .satisfies(finding -> assertThat(finding.trouble()).isEqualTo(DUPLICATE_LINE));
        assertThat(check.ready()).isFalse();
        assertThat(lines.driven(11)).isNull();
    }

    @Test
    void motorSupplyOn_noOutputIsTried() {
        Hand hand = hand();
        var check = procedure(hand);
        check.alone();
        lines.hold(19, Level.LOW); // the mirror contact is open: the contactor is closed
        assertThat(check.outputs())
                .singleElement()
                .satisfies(finding -> assertThat(finding.trouble()).isEqualTo(MOTOR_SUPPLY_ON));
        assertThat(hand.asked).isEmpty();
        assertThat(lines.driven(11)).isEqualTo(Level.LOW);
    }

    @Test
    void motorSupplyComesOnDuringATrial_everythingGoesOffAndTheTrialEnds() {
        var check =
                procedure(
                        new Hand(
                                MAP,
                                question -> {
                                    if (question.startsWith("Try the drive enable")) {
                                        lines.hold(19, Level.LOW);
                                    }
                                    return true;
                                }));
        check.alone();
        assertThat(check.outputs()).extracting(Finding::trouble).containsExactly(MOTOR_SUPPLY_ON);
        assertThat(lines.driven(11)).isEqualTo(Level.LOW);
    }

    @Test
    void lampThatNobodySees_isSaidSo_andIsOffAgain() {
        var check = procedure(new Hand(MAP, question -> !question.equals("Is the red lamp lit?")));
        check.alone();
        assertThat(check.outputs())
                .singleElement()
                .satisfies(finding -> assertThat(finding.trouble()).isEqualTo(OUTPUT_NOT_SEEN))
                .satisfies(finding -> assertThat(finding.what()).contains("red lamp", "GPIO8"));
        assertThat(lines.driven(8)).isEqualTo(Level.LOW);
    }
}
