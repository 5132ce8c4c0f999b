package org.evenwash.logger.intake;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.NavigableMap;
import java.util.TreeMap;
import java.util.UUID;
import org.evenwash.record.BenchState;
import org.evenwash.record.LiveReading;

/**
 * What was read of a running cycle so far, about once a second: enough to draw it, while its record
 * with every second of it comes at its end.
 */
public final class LiveTrace {
    /** An hour. Of a longer cycle the earliest readings go. */
    static final int MOST_READINGS = 3_600;

    private static final double LEAST_APART_S = 0.9;

    /** More than any cycle is held; the earliest go. */
    static final int MOST_CUTS = 100;

    private final UUID cycleId;
    private final Deque<Cut> cuts = new ArrayDeque<>();
    private final Deque<Point> points = new ArrayDeque<>();
    private final NavigableMap<Integer, Double> boutStarts = new TreeMap<>();

    LiveTrace(UUID cycleId) {
        this.cycleId = cycleId;
    }

    /** The speed at a moment of the cycle. */
    public record Point(double at_s, double speed_rpm) {}

    /**
     * An interruption.
     *
     * @param length_s so far; 0 for one that ends the cycle
     * @param cause as the bench gave it, null where no interlock asked for it
     */
    public record Cut(double at_s, double length_s, String cause, boolean over) {
        private Cut until(double elapsed_s, boolean isOver) {
            return new Cut(at_s, Math.max(length_s, elapsed_s - at_s), cause, isOver);
        }

        private Cut because(String reason) {
            return new Cut(at_s, length_s, reason, over);
        }
    }

    public UUID cycleId() {
        return cycleId;
    }

    synchronized void add(LiveReading live) {
        if (live.bout() > 0) {
            boutStarts.putIfAbsent(live.bout(), live.elapsed_s());
        }
        cut(live);
        boolean late =
                points.isEmpty() || live.elapsed_s() - points.peekLast().at_s() >= LEAST_APART_S;
        if (live.speed_rpm() != null && late) {
            points.addLast(new Point(live.elapsed_s(), live.speed_rpm()));
            if (points.size() > MOST_READINGS) {
                points.removeFirst();
            }
        }
    }

    private void cut(LiveReading live) {
        Cut last = cuts.peekLast();
        boolean open = last != null && !last.over();
        switch (live.state()) {
            case HOLDING, HELD, RESTARTING -> {
                if (open) {
                    cuts.removeLast();
                    cuts.addLast(last.until(live.elapsed_s(), false));
                } else {
                    begin(live);
                }
            }
            case STOPPING, ABORTING -> {
                if (!open) {
                    begin(live);
                }
            }
            case RUNNING -> {
                if (open) {
                    cuts.removeLast();
                    cuts.addLast(last.until(live.elapsed_s(), true));
                }
            }
            case IDLE, STOPPED, ABORTED, COMPLETE, OFFLINE -> {}
        }
    }

    private void begin(LiveReading live) {
        cuts.addLast(new Cut(live.elapsed_s(), 0, null, false));
        if (cuts.size() > MOST_CUTS) {
            cuts.removeFirst();
        }
    }

    /** Why the interruption that goes on began; the first cause that is told is kept. */
    synchronized void say(BenchState state) {
        Cut last = cuts.peekLast();
        if (last == null || last.over() || last.cause() != null) {
            return;
        }
        state.interlocks().stream()
                .filter(BenchState.TrippedInterlock::firstCause)
                .findFirst()
                .ifPresent(
                        first -> {
                            cuts.removeLast();
                            cuts.addLast(last.because(first.reason()));
                        });
    }

    /** Interruptions so far, in their order. */
    public synchronized List<Cut> cuts() {
        return List.copyOf(cuts);
    }

    public synchronized List<Point> points() {
        return List.copyOf(points);
    }

    /** When each bout was first heard of, by its number from 1; seconds into the cycle. */
    public synchronized NavigableMap<Integer, Double> boutStarts() {
        return new TreeMap<>(boutStarts);
    }
}
