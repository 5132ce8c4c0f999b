package org.evenwash.controller.pi4j;

import static org.assertj.core.api.Assertions.assertThat;
import static org.evenwash.controller.pi4j.Finding.Trouble.DUPLICATE_LINE;
import static org.evenwash.controller.pi4j.Finding.Trouble.NO_SUCH_LINE;

import java.util.List;
import org.evenwash.controller.pi4j.PinMap.Pin;
import org.junit.jupiter.api.Test;

class PinMapTest {
    @Test
    void defaultMap_hasNoMistakes() {
        assertThat(PinMap.DEFAULT.mistakes()).isEmpty();
    }

    @Test
    void brokenWire_readsAsTheUnsafeCase() {
        // An unconnected line settles at its pull; that must never look like "all is well".
        for (Pin pin : PinMap.DEFAULT.pins()) {
            boolean activeWhenCut = pin.isActive(FakeLines.settled(pin.pull()));
            switch (pin.signal()) {
                case E_STOP, LID, GUARD, DRIVER, JAR_1 ->
                        assertThat(activeWhenCut).as(pin.toString()).isFalse();
                case CONTACTOR -> assertThat(activeWhenCut).as("looks welded").isTrue();
                case STOP_BUTTON -> assertThat(activeWhenCut).as("looks pressed").isTrue();
                case START_BUTTON,
                        HOLD_BUTTON,
                        PROOF_TEST_BUTTON,
                        ACKNOWLEDGE_BUTTON,
                        SAME_JAR_BUTTON,
                        SECOND_WASH_BUTTON ->
                        assertThat(activeWhenCut).as("never pressed").isFalse();
                default ->
                        assertThat(pin.signal().kind())
                                .as("judged above: " + pin.signal())
                                .isNotIn(Signal.Kind.CONTACT, Signal.Kind.BUTTON);
            }
        }
    }

    @Test
    void outputsThatCouldMoveSomething_areWhereAPiPullsDownFromPowerOn() {
        // BCM2835 ARM Peripherals, table "GPIO alternate functions": GPIO0-8 reset with pull-up,
        // 9-27 with pull-down
        // (from memory; the external 10 kΩ of the wiring notes does not rely on it).
        for (Signal signal :
                List.of(
                        Signal.DRIVE_ENABLE,
                        Signal.DRIVE_REVERSE,
                        Signal.MOTOR_PWM,
                        Signal.HEARTBEAT)) {
            Pin pin = PinMap.DEFAULT.pin(signal).orElseThrow();
            assertThat(pin.gpio()).as(signal.title()).isGreaterThanOrEqualTo(9);
            assertThat(pin.active()).as(signal.title()).isEqualTo(Level.HIGH);
        }
    }

    @Test
    void twoSignalsOnOnePin_areBothNamed() {
        var map = PinMap.DEFAULT.with(new Pin(Signal.LID, 5, Level.HIGH, Pull.DOWN));
        assertThat(map.mistakes())
                .singleElement()
                .satisfies(finding -> assertThat(finding.trouble()).isEqualTo(DUPLICATE_LINE))
                .satisfies(
                        finding ->
                                assertThat(finding.what())
                                        .contains("GPIO5 ", "emergency stop", "lid read-back"));
    }

    @Test
    void aPinOfABus_isTaken() {
        var map = PinMap.DEFAULT.with(new Pin(Signal.SOUNDER, 2, Level.HIGH, Pull.NONE));
        assertThat(map.mistakes())
                .singleElement()
                .satisfies(finding -> assertThat(finding.what()).contains("I2C data", "sounder"));
    }

    @Test
    void aPinThatIsNotOnTheHeader_isRefused() {
        var map = PinMap.DEFAULT.with(new Pin(Signal.SOUNDER, 28, Level.HIGH, Pull.NONE));
        assertThat(map.mistakes())
                .singleElement()
                .satisfies(finding -> assertThat(finding.trouble()).isEqualTo(NO_SUCH_LINE))
                .satisfies(finding -> assertThat(finding.what()).contains("GPIO28"));
    }

    @Test
    void emptyMap_namesEverySignalThatMustBeThere() {
        assertThat(new PinMap(List.of()).mistakes()).hasSize(PinMap.REQUIRED.size());
    }
}
