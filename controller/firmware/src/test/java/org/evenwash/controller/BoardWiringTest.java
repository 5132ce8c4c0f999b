package org.evenwash.controller;

import static org.assertj.core.api.Assertions.assertThat;

import org.evenwash.controller.config.ConfigurationFile;
import org.evenwash.controller.pi4j.PinMap;
import org.evenwash.controller.pi4j.Wiring;
import org.junit.jupiter.api.Test;

class BoardWiringTest {
    private final Wiring shipped = BoardWiring.of(ConfigurationFile.shipped());

    @Test
    void shippedSettings_areThePinMapOfTheWiringNotes() {
        assertThat(shipped.pins().pins())
                .containsExactlyInAnyOrderElementsOf(PinMap.DEFAULT.pins());
        assertThat(shipped.pins().mistakes()).isEmpty();
    }

    @Test
    void shippedSettings_areTheWiringOfTheNotesInAllElse() {
        assertThat(shipped)
                .usingRecursiveComparison()
                .ignoringFields("pins")
                .isEqualTo(Wiring.DEFAULT);
    }

    @Test
    void whatTheWiresGive_isWhatTheMachineWatches() {
        assertThat(ConfigurationFile.shipped().settings().fitted()).isEqualTo(shipped.fitted());
    }
}
