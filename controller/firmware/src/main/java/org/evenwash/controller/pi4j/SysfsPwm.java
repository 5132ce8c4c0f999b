package org.evenwash.controller.pi4j;

import com.pi4j.plugin.linuxfs.internal.LinuxPwm;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.concurrent.locks.LockSupport;
import org.evenwash.controller.pi4j.Finding.Trouble;

/**
 * The motor's PWM channel through the kernel's sysfs tree.
 *
 * <p>Pi4J's own {@code Pwm.on()} writes duty 0, disables, sets the period and enables again each time: a gap in the drive at
 * every change. Here its sysfs layer sets period and polarity once, and afterwards only the duty is written, into a file
 * that stays open: no gap, and no allocation in the scan.
 */
public final class SysfsPwm implements AutoCloseable {
    private static final long NANOS_PER_SECOND = 1_000_000_000L;
    private static final long EXPORT_LIMIT_ns = 2 * NANOS_PER_SECOND;
    private static final long EXPORT_POLL_ns = 10_000_000L;
    private static final int LONGEST_NUMBER = 20;

    private final LinuxPwm pwm;
    private final FileChannel dutyFile;
    private final ByteBuffer text = ByteBuffer.allocateDirect(LONGEST_NUMBER + 1);
    private final long period_ns;
    private long written_ns;

    private SysfsPwm(LinuxPwm pwm, FileChannel dutyFile, long period_ns) {
        this.pwm = pwm;
        this.dutyFile = dutyFile;
        this.period_ns = period_ns;
    }

    /**
     * Takes a channel, sets its frequency and leaves it enabled at duty 0.
     *
     * @param tree usually {@code /sys/class/pwm}
     * @param chip the N of {@code pwmchipN}
     * @param frequency_Hz 1 to 1,000,000
     * @throws WiringException when there is no such channel or this user may not write it
     */
    public static SysfsPwm open(Path tree, int chip, int channel, int frequency_Hz) {
        if (frequency_Hz < 1 || frequency_Hz > 1_000_000) {
            throw new IllegalArgumentException(
                    "frequency " + frequency_Hz + " Hz is not 1 to 1,000,000");
        }
        Path chipFolder = tree.resolve("pwmchip" + chip);
        Path folder = chipFolder.resolve("pwm" + channel);
        LinuxPwm pwm = new LinuxPwm(tree.toString(), chip, channel);
        long period_ns = NANOS_PER_SECOND / frequency_Hz;
        try {
            if (!Files.isDirectory(chipFolder) || channel >= pwm.channels()) {
                throw new WiringException(missing(chip, channel, tree));
            }
            if (!pwm.isExported()) {
                pwm.export();
            }
            awaitWritable(folder.resolve("duty_cycle"));
            // An earlier run may have left it running: duty first, or a shorter period is refused;
            // the polarity of a
            // running channel cannot be set.
            if (pwm.period() > 0) {
                pwm.dutyCycle(0);
            }
            if (pwm.enabled()) {
                pwm.disable();
            }
            pwm.period(period_ns);
            pwm.dutyCycle(0);
            pwm.polarity(LinuxPwm.Polarity.NORMAL);
            pwm.enable();
            return new SysfsPwm(
                    pwm,
                    FileChannel.open(folder.resolve("duty_cycle"), StandardOpenOption.WRITE),
                    period_ns);
        } catch (IOException e) {
            throw new WiringException(refused(folder, e), e);
        }
    }

    /** The file appears at once, but the system's device manager gives it to the group a moment later. */
    private static void awaitWritable(Path file) throws IOException {
        long begun_ns = System.nanoTime();
        while (!Files.isWritable(file)) {
            if (System.nanoTime() - begun_ns > EXPORT_LIMIT_ns) {
                throw new IOException("not writable by this user");
            }
            LockSupport.parkNanos(EXPORT_POLL_ns);
        }
    }

    /**
     * Sets the share of the period that drives, from the next period on.
     *
     * @param duty 0 to 1; NaN counts as 0
     */
    public void duty(double duty) {
        double share = duty > 0 ? Math.min(duty, 1) : 0;
        long duty_ns = Math.round(share * period_ns);
        if (duty_ns == written_ns) {
            return;
        }
        write(duty_ns);
        written_ns = duty_ns;
    }

    /** The duty that the kernel holds now, 0 to 1, read back. */
    public double duty() {
        try {
            // The first line only: a file of the kernel's has no length, a plain one in a test
            // keeps its old tail.
            String line =
                    Files.readString(Path.of(pwm.getPwmPath(), "duty_cycle"))
                            .lines()
                            .findFirst()
                            .orElseThrow();
            return Double.parseDouble(line) / period_ns;
        } catch (IOException e) {
            throw new UncheckedIOException("cannot read back the duty of " + pwm.getPwmPath(), e);
        }
    }

    private void write(long number) {
        text.clear();
        text.position(LONGEST_NUMBER);
        text.put((byte) '\n');
        int at = LONGEST_NUMBER;
        long rest = number;
        do {
            text.put(--at, (byte) ('0' + rest % 10));
            rest /= 10;
        } while (rest > 0);
        text.position(at).limit(LONGEST_NUMBER + 1);
        try {
            dutyFile.write(text, 0);
        } catch (IOException e) {
            throw new UncheckedIOException("cannot write the duty of " + pwm.getPwmPath(), e);
        }
    }

    /** Duty 0, then off. The channel stays exported: giving it back would let the pin float. */
    @Override
    public void close() {
        try {
            write(0);
            written_ns = 0;
            pwm.disable();
            dutyFile.close();
        } catch (IOException e) {
            throw new UncheckedIOException("cannot switch off " + pwm.getPwmPath(), e);
        }
    }

    private static Finding missing(int chip, int channel, Path tree) {
        return new Finding(
                Trouble.PWM_MISSING,
                "There is no PWM channel %d on pwmchip%d in %s.".formatted(channel, chip, tree),
                "Load the device-tree overlay 'pwm' for the motor's pin and restart, or correct chip and channel in the configuration; on a Pi 5 the chip has another number.");
    }

    private static Finding refused(Path folder, IOException e) {
        return new Finding(
                Trouble.PWM_MISSING,
                "The PWM channel %s was refused: %s.".formatted(folder, e.getMessage()),
                "Let the user write it (group 'gpio' and the service's udev rule), and make sure that nothing else uses the channel.");
    }
}
