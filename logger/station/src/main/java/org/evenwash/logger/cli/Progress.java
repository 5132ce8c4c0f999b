package org.evenwash.logger.cli;

import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.Supplier;
import me.tongfei.progressbar.ProgressBar;
import me.tongfei.progressbar.ProgressBarBuilder;

/**
 * Shows that a calculation is going on, once it has taken a second, if a person is watching. How far
 * it is cannot be said, so the bar moves without an end and the clock beside it runs.
 */
final class Progress {
    private static final long PATIENCE_ms = 1000;

    private Progress() {}

    static <T> T shown(Supplier<T> work) {
        // The bar goes to standard error, so a pipe never sees it.
        if (!Terminal.attached()) {
            return work.get();
        }
        ScheduledExecutorService clock =
                Executors.newSingleThreadScheduledExecutor(
                        task -> {
                            Thread thread = new Thread(task, "progress");
                            thread.setDaemon(true);
                            return thread;
                        });
        var bar = new AtomicReference<ProgressBar>();
        var start = clock.schedule(() -> bar.set(begun()), PATIENCE_ms, TimeUnit.MILLISECONDS);
        try {
            return work.get();
        } finally {
            start.cancel(false);
            clock.shutdown();
            ended(clock);
            ProgressBar shown = bar.get();
            if (shown != null) {
                shown.close();
            }
        }
    }

    /** A bar that is just being made is waited for, so that none is left on the screen. */
    private static void ended(ScheduledExecutorService clock) {
        try {
            clock.awaitTermination(PATIENCE_ms, TimeUnit.MILLISECONDS);
        } catch (InterruptedException stopped) {
            Thread.currentThread().interrupt();
        }
    }

    private static ProgressBar begun() {
        return new ProgressBarBuilder()
                .setTaskName("Calculating")
                .setInitialMax(-1)
                .hideEta()
                .clearDisplayOnFinish()
                .build();
    }
}
