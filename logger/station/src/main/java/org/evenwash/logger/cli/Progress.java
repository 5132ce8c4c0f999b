package org.evenwash.logger.cli;

import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.Function;
import java.util.function.Supplier;
import me.tongfei.progressbar.ProgressBar;
import me.tongfei.progressbar.ProgressBarBuilder;
import me.tongfei.progressbar.ProgressState;

/**
 * Shows that a calculation is going on, once it has taken a second, if a person is watching. How far
 * it is cannot be said, so the bar moves without an end and the clock beside it runs.
 */
final class Progress {
    private static final long PATIENCE_ms = 1000;
    private static final int TRACK = 20;

    private Progress() {}

    /** Shows how far a work is that can tell. */
    static <T> T counted(String task, Function<org.evenwash.logger.transfer.Progress, T> work) {
        if (!Terminal.attached()) {
            return work.apply(org.evenwash.logger.transfer.Progress.NONE);
        }
        try (ProgressBar bar =
                new ProgressBarBuilder().setTaskName(task).clearDisplayOnFinish().build()) {
            return work.apply(
                    (done, total) -> {
                        bar.maxHint(total);
                        bar.stepTo(done);
                    });
        }
    }

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

    private static String line(ProgressState state, int width) {
        int second = (int) state.getElapsedAfterStart().toSeconds();
        String place =
                " ".repeat(second % TRACK) + "=".repeat(3) + " ".repeat(TRACK - second % TRACK);
        return state.getTaskName() + " [" + place + "] " + (second + 1) + " s";
    }

    private static ProgressBar begun() {
        return new ProgressBarBuilder()
                .setTaskName("Calculating")
                .setInitialMax(-1)
                .setRenderer(Progress::line)
                .clearDisplayOnFinish()
                .build();
    }
}
