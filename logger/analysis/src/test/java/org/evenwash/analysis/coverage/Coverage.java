package org.evenwash.analysis.coverage;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.DoubleSummaryStatistics;
import java.util.Locale;
import java.util.function.DoubleSupplier;
import org.evenwash.analysis.numeric.Limits;

/** How often an interval held the truth, over several scenarios. */
final class Coverage {

    private final String interval;
    private final int runs;
    private final DoubleSummaryStatistics scenarios = new DoubleSummaryStatistics();
    private String worst = "";

    /**
     * @param runs simulated intervals a scenario; 0 where the coverage is summed exactly
     */
    Coverage(String interval, int runs) {
        this.interval = interval;
        this.runs = runs;
    }

    /** One scenario: {@code covered} gives 1 or 0, or NaN where the method refuses an interval. */
    void simulate(String scenario, DoubleSupplier covered) {
        double held = 0;
        int given = 0;
        for (int i = 0; i < runs; i++) {
            double one = covered.getAsDouble();
            if (!Double.isNaN(one)) {
                held += one;
                given++;
            }
        }
        if (given >= runs / 2) {
            add(scenario, held / given);
        }
    }

    void add(String scenario, double coverage) {
        if (coverage < scenarios.getMin()) {
            worst = scenario;
        }
        scenarios.accept(coverage);
    }

    static double holds(Limits limits, double truth) {
        return limits.lower() <= truth && truth <= limits.upper() ? 1 : 0;
    }

    /** Fails if the worst scenario lies below a figure by more than four standard errors of simulation. */
    void leastMustReach(double figure) {
        double error = runs == 0 ? 1e-9 : 4 * Math.sqrt(figure * (1 - figure) / runs);
        leastMustReach(figure, error);
    }

    /** As above, with the error given: that of the figure itself, where the coverage here is exact. */
    void leastMustReach(double figure, double error) {
        System.out.printf(
                Locale.ROOT,
                "%-34s %5d scenarios: least %.4f (to reach %.3f), mean %.4f; least at %s%n",
                interval,
                scenarios.getCount(),
                scenarios.getMin(),
                figure,
                scenarios.getAverage(),
                worst);
        assertThat(scenarios.getCount()).isPositive();
        assertThat(scenarios.getMin()).as(worst).isGreaterThanOrEqualTo(figure - error);
    }

    /** Half a per cent below is allowed: so far the choice of scenarios alone moves a mean. */
    void meanMustReach(double figure) {
        assertThat(scenarios.getAverage()).isGreaterThanOrEqualTo(figure - 0.005);
    }
}
