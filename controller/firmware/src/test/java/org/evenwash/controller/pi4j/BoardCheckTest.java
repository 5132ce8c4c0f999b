package org.evenwash.controller.pi4j;

import static org.assertj.core.api.Assertions.assertThat;
import static org.evenwash.controller.pi4j.Finding.Trouble.NATIVE_LIBRARY;
import static org.evenwash.controller.pi4j.Finding.Trouble.NO_GPIO_DEVICE;
import static org.evenwash.controller.pi4j.Finding.Trouble.OLD_INTERFACE_MISSING;
import static org.evenwash.controller.pi4j.Finding.Trouble.WRONG_CHIP;

import java.util.List;
import org.junit.jupiter.api.Test;

class BoardCheckTest {
    private record TestBoard(
            String architecture, String model, List<Chip> chips, List<String> forbiddenChips)
            implements Board {
        TestBoard(List<Chip> chips) {
            this("aarch64", "Raspberry Pi 4 Model B Rev 1.5", chips, List.of());
        }
    }

    private static final Board.Chip HEADER = new Board.Chip("pinctrl-bcm2711", 58, true);

    @Test
    void aPiWithItsChip_hasNothingWrong() {
        assertThat(BoardCheck.of(new TestBoard(List.of(HEADER)))).isEmpty();
    }

    @Test
    void aPi5WithSeveralChips_hasNothingWrong() {
        var expander = new Board.Chip("gpio-brcmstb@107d508500", 32, true);
        var header = new Board.Chip("pinctrl-rp1", 54, true);
        assertThat(BoardCheck.of(new TestBoard(List.of(expander, header)))).isEmpty();
    }

    @Test
    void anotherProcessor_isNamedFirst() {
        var board = new TestBoard("amd64", "", List.of(), List.of());
        assertThat(BoardCheck.of(board))
                .singleElement()
                .satisfies(finding -> assertThat(finding.trouble()).isEqualTo(NATIVE_LIBRARY))
                .satisfies(
                        finding ->
                                assertThat(finding.toString())
                                        .contains("amd64", "simulated bench"));
    }

    @Test
    void noDevice_andADeviceOfAnotherGroup_areDifferentSentences() {
        assertThat(BoardCheck.of(new TestBoard(List.of())))
                .singleElement()
                .satisfies(finding -> assertThat(finding.trouble()).isEqualTo(NO_GPIO_DEVICE))
                .satisfies(finding -> assertThat(finding.what()).contains("no GPIO device"));
        var forbidden = new TestBoard("aarch64", "", List.of(), List.of("/dev/gpiochip0"));
        assertThat(BoardCheck.of(forbidden))
                .singleElement()
                .satisfies(finding -> assertThat(finding.what()).contains("/dev/gpiochip0"))
                .satisfies(finding -> assertThat(finding.remedy()).contains("group"));
    }

    @Test
    void kernelWithoutTheOldInterface_isSaidSo() {
        var board = new TestBoard(List.of(new Board.Chip("pinctrl-bcm2711", 58, false)));
        assertThat(BoardCheck.of(board))
                .singleElement()
                .satisfies(
                        finding -> assertThat(finding.trouble()).isEqualTo(OLD_INTERFACE_MISSING))
                .satisfies(finding -> assertThat(finding.what()).contains("CONFIG_GPIO_CDEV_V1"));
    }

    @Test
    void wrongChip_listsWhatIsThere() {
        var board = new TestBoard(List.of(new Board.Chip("an-expander", 16, true)));
        assertThat(BoardCheck.of(board))
                .singleElement()
                .satisfies(finding -> assertThat(finding.trouble()).isEqualTo(WRONG_CHIP))
                .satisfies(
                        finding -> assertThat(finding.what()).contains("an-expander", "pinctrl"));
    }
}
