package org.evenwash.controller.pi4j;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import org.evenwash.controller.pi4j.Finding.Trouble;

/** Whether this computer and its kernel can drive the lines at all, in words a builder can act on. */
final class BoardCheck {
    /** Pi4J takes the first chip whose label contains this; so do all Pi models with a 40-pin header. */
    static final String CHIP_LABEL = "pinctrl";

    private static final Set<String> ARCHITECTURES = Set.of("aarch64", "arm64", "arm");

    private BoardCheck() {}

    /** All that is wrong, most basic first. */
    static List<Finding> of(Board board) {
        List<Finding> found = new ArrayList<>();
        if (!ARCHITECTURES.contains(board.architecture())) {
            found.add(
                    new Finding(
                            Trouble.NATIVE_LIBRARY,
                            "This computer's processor is '%s', and the library for the lines exists for Arm only."
                                    .formatted(board.architecture()),
                            "Run the controller on a Raspberry Pi, or start it here with the simulated bench."));
            return found;
        }
        List<Board.Chip> chips = board.chips();
        if (chips.isEmpty()) {
            found.add(noDevice(board));
            return found;
        }
        if (chips.stream().noneMatch(Board.Chip::firstInterface)) {
            found.add(oldInterfaceMissing());
        }
        List<String> labels = chips.stream().map(Board.Chip::label).toList();
        if (labels.stream().noneMatch(label -> label.contains(CHIP_LABEL))) {
            found.add(
                    new Finding(
                            Trouble.WRONG_CHIP,
                            "No GPIO chip here belongs to a Raspberry Pi's header: found %s, needed is a label with '%s'."
                                    .formatted(labels, CHIP_LABEL),
                            "Check that this is a Raspberry Pi and that its own kernel and device tree are booted."));
        }
        return found;
    }

    private static Finding noDevice(Board board) {
        if (!board.forbiddenChips().isEmpty()) {
            return new Finding(
                    Trouble.NO_GPIO_DEVICE,
                    "The GPIO devices %s may not be opened by this user."
                            .formatted(board.forbiddenChips()),
                    "Add the user to the group that owns them (usually 'gpio') and log in again.");
        }
        return new Finding(
                Trouble.NO_GPIO_DEVICE,
                "There is no GPIO device (/dev/gpiochip*).",
                "Boot the board's own kernel; in a container, pass the device through.");
    }

    static Finding oldInterfaceMissing() {
        return new Finding(
                Trouble.OLD_INTERFACE_MISSING,
                "This kernel was built without version 1 of the GPIO character device (CONFIG_GPIO_CDEV_V1), which the library speaks.",
                "Boot a kernel that has it, as Raspberry Pi OS and Debian ship.");
    }

    static Finding notAPi(String model) {
        return new Finding(
                Trouble.NOT_A_PI,
                "The board calls itself '%s', which the library does not know as a Raspberry Pi."
                        .formatted(model),
                "Use a Raspberry Pi with a 40-pin header, or start with the simulated bench.");
    }

    static Finding notOpened(String reason) {
        return new Finding(
                Trouble.NATIVE_LIBRARY,
                "The GPIO library could not be opened: %s.".formatted(reason),
                "It needs glibc 2.33 or newer and a /tmp from which programs may be loaded; then run the check again.");
    }

    static Finding noSuchLine(int gpio, String wantedFor) {
        return new Finding(
                Trouble.NO_SUCH_LINE,
                "GPIO%d, wanted for '%s', does not exist on this chip.".formatted(gpio, wantedFor),
                "Correct the number in the pin map; it is the GPIO number, not the place on the header.");
    }

    static Finding busy(int gpio, String wantedFor, String holder) {
        return new Finding(
                Trouble.BUSY_LINE,
                "GPIO%d, wanted for '%s', is held by '%s'.".formatted(gpio, wantedFor, holder),
                "Stop that program or remove the device-tree overlay that owns the pin, or choose another pin in the pin map.");
    }
}
