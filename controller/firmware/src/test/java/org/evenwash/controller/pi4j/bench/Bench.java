package org.evenwash.controller.pi4j.bench;

import com.pi4j.library.gpiod.internal.GpioDContext;
import com.pi4j.library.gpiod.internal.LineRequestFlag;
import java.nio.file.Files;
import java.nio.file.Path;

/** Temporary probe. */
public final class Bench {
    private Bench() {}

    public static void main(String[] args) throws Exception {
        var lines = Path.of(args[1]);
        try (var list = Files.list(lines)) {
            System.out.println(list.map(p -> p.getFileName().toString()).sorted().toList());
        }
        long t = System.nanoTime();
        GpioDContext.getInstance().initialize();
        System.out.println("init ms " + (System.nanoTime() - t) / 1_000_000);
        var out = GpioDContext.getInstance().getOrOpenLine(17);
        out.requestOutputFlags("motor", LineRequestFlag.BIAS_PULL_DOWN.getVal(), 0);
        out.setValue(1);
        System.out.println(
                "BENCH: 17=" + Files.readString(lines.resolve("sim_gpio17/value")).trim());
        try (var list = Files.walk(Path.of("/sys/class/pwm"))) {
            System.out.println(list.toList());
        }
        Files.writeString(Path.of("/sys/class/pwm/pwmchip0/export"), "0");
        Files.writeString(Path.of("/sys/class/pwm/pwmchip0/pwm0/period"), "50000");
        Files.writeString(Path.of("/sys/class/pwm/pwmchip0/pwm0/duty_cycle"), "1000");
        System.out.println(
                "BENCH: duty "
                        + Files.readString(Path.of("/sys/class/pwm/pwmchip0/pwm0/duty_cycle"))
                                .trim());
        System.out.println(
                "i2c "
                        + Files.exists(Path.of("/dev/i2c-1"))
                        + " line27 "
                        + GpioDContext.getInstance().getOrOpenLine(27).getConsumer());
        if (args[0].equals("cut")) {
            System.out.println("BENCH: cut the power now");
            boolean released =
                    new java.util.concurrent.CountDownLatch(1)
                            .await(60, java.util.concurrent.TimeUnit.SECONDS);
            System.out.println(released);
        }
    }
}
