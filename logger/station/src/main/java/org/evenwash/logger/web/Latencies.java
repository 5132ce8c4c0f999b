package org.evenwash.logger.web;

import java.util.concurrent.atomic.DoubleAdder;
import java.util.concurrent.atomic.LongAdder;

/** How long requests took, counted into the classes of a Prometheus histogram. */
final class Latencies {
    /** Upper limits in seconds. */
    static final double[] LIMITS_S = {0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5};

    private final LongAdder[] classes = new LongAdder[LIMITS_S.length + 1];
    private final DoubleAdder sum_s = new DoubleAdder();
    private final LongAdder failures = new LongAdder();

    Latencies() {
        for (int i = 0; i < classes.length; i++) {
            classes[i] = new LongAdder();
        }
    }

    void note(double took_s, int status) {
        int i = 0;
        while (i < LIMITS_S.length && took_s > LIMITS_S[i]) {
            i++;
        }
        classes[i].increment();
        sum_s.add(took_s);
        if (status >= 500) {
            failures.increment();
        }
    }

    /** Answers with a status of 500 and above. */
    long failures() {
        return failures.sum();
    }

    double sum_s() {
        return sum_s.sum();
    }

    /** Requests up to each limit and, last, all. */
    long[] upToEach() {
        long[] counts = new long[classes.length];
        long all = 0;
        for (int i = 0; i < classes.length; i++) {
            all += classes[i].sum();
            counts[i] = all;
        }
        return counts;
    }
}
