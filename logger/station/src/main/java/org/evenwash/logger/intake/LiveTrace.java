package org.evenwash.logger.intake;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.NavigableMap;
import java.util.TreeMap;
import java.util.UUID;
import org.evenwash.record.LiveReading;

/**
 * What was read of a running cycle so far, about once a second: enough to draw it, while its record
 * with every second of it comes at its end.
 */
public final class LiveTrace {
    /** An hour. Of a longer cycle the earliest readings go. */
    static final int MOST_READINGS = 3_600;

    private static final double LEAST_APART_S = 0.9;

    private final UUID cycleId;
    private final Deque<Point> points = new ArrayDeque<>();
    private final NavigableMap<Integer, Double> boutStarts = new TreeMap<>();

    LiveTrace(UUID cycleId) {
        this.cycleId = cycleId;
    }

    /** The speed at a moment of the cycle. */
    public record Point(double at_s, double speed_rpm) {}

    public UUID cycleId() {
        return cycleId;
    }

    synchronized void add(LiveReading live) {
        if (live.bout() > 0) {
            boutStarts.putIfAbsent(live.bout(), live.elapsed_s());
        }
        boolean late =
                points.isEmpty() || live.elapsed_s() - points.peekLast().at_s() >= LEAST_APART_S;
        if (live.speed_rpm() != null && late) {
            points.addLast(new Point(live.elapsed_s(), live.speed_rpm()));
            if (points.size() > MOST_READINGS) {
                points.removeFirst();
            }
        }
    }

    public synchronized List<Point> points() {
        return List.copyOf(points);
    }

    /** When each bout was first heard of, by its number from 1; seconds into the cycle. */
    public synchronized NavigableMap<Integer, Double> boutStarts() {
        return new TreeMap<>(boutStarts);
    }
}
