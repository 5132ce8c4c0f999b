package org.evenwash.controller.pi4j;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** On a folder that looks like the kernel's tree; the kernel's own tree is used in the virtual bench. */
class SysfsPwmTest {
    @TempDir private Path tree;
    private Path channel;

    @BeforeEach
    void exportedChannel() throws IOException {
        channel = Files.createDirectories(tree.resolve("pwmchip0/pwm0"));
        Files.writeString(tree.resolve("pwmchip0/npwm"), "2\n");
        write("period", "0\n");
        write("duty_cycle", "0\n");
        write("polarity", "normal\n");
        write("enable", "0\n");
    }

    private void write(String file, String text) throws IOException {
        Files.writeString(channel.resolve(file), text);
    }

    private String read(String file) throws IOException {
        return Files.readString(channel.resolve(file)).lines().findFirst().orElseThrow();
    }

    @Test
    void opened_runsAtItsFrequencyWithDutyZero() throws IOException {
        try (var pwm = SysfsPwm.open(tree, 0, 0, 20_000)) {
            assertThat(read("period")).isEqualTo("50000");
            assertThat(read("enable")).isEqualTo("1");
            assertThat(pwm.duty()).isZero();
        }
    }

    @Test
    void leftRunningByAnEarlierProgram_beginsAtZeroAgain() throws IOException {
        write("period", "1000000\n");
        write("duty_cycle", "900000\n");
        write("enable", "1\n");
        try (var pwm = SysfsPwm.open(tree, 0, 0, 20_000)) {
            assertThat(read("duty_cycle")).isEqualTo("0");
            assertThat(pwm.duty()).isZero();
        }
    }

    @Test
    void dutyChanges_touchNothingButTheDuty() throws IOException {
        try (var pwm = SysfsPwm.open(tree, 0, 0, 20_000)) {
            write("enable", "untouched");
            write("period", "untouched");
            pwm.duty(0.5);
            assertThat(read("duty_cycle")).isEqualTo("25000");
            pwm.duty(1);
            assertThat(read("duty_cycle")).isEqualTo("50000");
            pwm.duty(0);
            assertThat(read("duty_cycle")).isEqualTo("0");
            assertThat(read("enable")).isEqualTo("untouched");
            assertThat(read("period")).isEqualTo("untouched");
        }
    }

    @Test
    void dutyOutsideItsRange_isHeldInside_andNoNumberIsOff() throws IOException {
        try (var pwm = SysfsPwm.open(tree, 0, 0, 20_000)) {
            pwm.duty(1.5);
            assertThat(pwm.duty()).isEqualTo(1);
            pwm.duty(-0.1);
            assertThat(pwm.duty()).isZero();
            pwm.duty(0.3);
            pwm.duty(Double.NaN);
            assertThat(pwm.duty()).isZero();
        }
    }

    @Test
    void closed_isOffAndAtZero() throws IOException {
        var pwm = SysfsPwm.open(tree, 0, 0, 20_000);
        pwm.duty(0.5);
        pwm.close();
        assertThat(read("duty_cycle")).isEqualTo("0");
        assertThat(read("enable")).isEqualTo("0");
    }

    @Test
    void noSuchChip_andNoSuchChannel_sayWhatToDo() {
        assertThatThrownBy(() -> SysfsPwm.open(tree, 3, 0, 20_000))
                .isInstanceOf(WiringException.class)
                .hasMessageContaining("pwmchip3")
                .hasMessageContaining("overlay");
        assertThatThrownBy(() -> SysfsPwm.open(tree, 0, 2, 20_000))
                .isInstanceOf(WiringException.class)
                .hasMessageContaining("channel 2");
    }
}
