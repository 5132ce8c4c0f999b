package org.evenwash.controller.process;

/**
 * Speed once a second. A chain from the newest point back: adding one costs one small object and
 * shares all the rest.
 */
final class SpeedTrace {
    static final SpeedTrace EMPTY = new SpeedTrace(Float.NaN, null, 0);

    /** Six hours, the longest cycle a bench can be configured for. */
    private static final int MOST_POINTS = 6 * 3600;

    private final float speed_rpm;
    private final SpeedTrace earlier;
    private final int length;

    private SpeedTrace(float speed_rpm, SpeedTrace earlier, int length) {
        this.speed_rpm = speed_rpm;
        this.earlier = earlier;
        this.length = length;
    }

    /** Points so far: one for each second begun. */
    int length() {
        return length;
    }

    /** Adds points until the trace reaches {@code elapsed_ns}; a late scan leaves NaN for gaps. */
    SpeedTrace until(long elapsed_ns, double speed) {
        long wanted = Math.min(elapsed_ns / 1_000_000_000L + 1, MOST_POINTS);
        SpeedTrace trace = this;
        while (trace.length < wanted) {
            boolean newest = trace.length + 1 == wanted;
            trace = new SpeedTrace(newest ? (float) speed : Float.NaN, trace, trace.length + 1);
        }
        return trace;
    }

    float[] points_rpm() {
        float[] points = new float[length];
        SpeedTrace at = this;
        for (int i = length - 1; i >= 0; i--) {
            points[i] = at.speed_rpm;
            at = at.earlier;
        }
        return points;
    }
}
