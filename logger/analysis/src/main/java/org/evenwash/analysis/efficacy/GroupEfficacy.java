package org.evenwash.analysis.efficacy;

import java.util.List;
import org.evenwash.analysis.numeric.Limits;
import org.evenwash.analysis.numeric.Quantiles;

/**
 * Efficacy over groups of colonies, in per cent: ratios of totals (½ added), with the variance of each
 * group's ratio estimated from colony to colony and never below what counting alone gives. Counts are
 * scaled to a common number of bees first.
 *
 * @param efficacy 100·(1 − R)
 * @param seLog standard error of ln R; NaN with fewer than two colonies in a group
 * @param df degrees of freedom of the interval; with a control those of Welch and Satterthwaite (Welch
 *     1947, Biometrika 34:28–35), as a small group's variance is known worse than a large one's
 * @param limits 95 % limits
 */
public record GroupEfficacy(double efficacy, double seLog, double df, Limits limits) {

    /** A treated group beside an untreated one; each colony washed before and after. */
    public static GroupEfficacy of(List<BeforeAfter> treated, List<BeforeAfter> control) {
        double bees = meanBees(treated, control);
        Group one = Group.of(treated, bees);
        Group other = Group.of(control, bees);
        double variance = one.floored() + other.floored();
        return of(
                one.ratio / other.ratio,
                variance,
                welch(one.floored(), one.colonies - 1, other.floored(), other.colonies - 1),
                treated.size() > 1 && control.size() > 1);
    }

    /** A treated group alone: what is found includes the natural change. */
    public static GroupEfficacy withoutControl(List<BeforeAfter> treated) {
        Group one = Group.of(treated, meanBees(treated, List.of()));
        return of(one.ratio, one.floored(), one.colonies - 1, one.colonies > 1);
    }

    /** Variance of ln(after : before) from colony to colony, the counting of one colony in it. */
    static double scatter(List<BeforeAfter> colonies) {
        return colonies.size() * Group.of(colonies, meanBees(colonies, List.of())).variance;
    }

    /** Degrees of freedom of a sum of two variances, each known with its own. */
    static double welch(double one, double oneDf, double other, double otherDf) {
        double sum = one + other;
        return sum * sum / (one * one / oneDf + other * other / otherDf);
    }

    private static GroupEfficacy of(double ratio, double variance, double df, boolean defined) {
        double se = defined ? Math.sqrt(variance) : Double.NaN;
        double half = defined ? Quantiles.student95(df) * se : Double.NaN;
        return new GroupEfficacy(
                100 * (1 - ratio),
                se,
                df,
                new Limits(
                        100 * (1 - ratio * Math.exp(half)), 100 * (1 - ratio * Math.exp(-half))));
    }

    private static double meanBees(List<BeforeAfter> treated, List<BeforeAfter> control) {
        double bees = 0;
        for (List<BeforeAfter> group : List.of(treated, control)) {
            for (BeforeAfter colony : group) {
                bees += colony.before().bees() + colony.after().bees();
            }
        }
        return bees / (2.0 * (treated.size() + control.size()));
    }

    /** One group's ratio after : before, and the variance of its logarithm. */
    private record Group(double ratio, double variance, double counting, int colonies) {

        /** No group is surer than its counting. */
        double floored() {
            return Math.max(variance, counting);
        }

        static Group of(List<BeforeAfter> colonies, double bees) {
            if (colonies.isEmpty()) {
                throw new IllegalArgumentException("a group needs at least one colony");
            }
            double after = 0.5;
            double before = 0.5;
            double counted = 0.5;
            double countedBefore = 0.5;
            for (BeforeAfter colony : colonies) {
                after += scaled(colony.after(), bees);
                before += scaled(colony.before(), bees);
                counted += colony.after().mites();
                countedBefore += colony.before().mites();
            }
            double ratio = after / before;
            double squares = 0;
            for (BeforeAfter colony : colonies) {
                double error = scaled(colony.after(), bees) - ratio * scaled(colony.before(), bees);
                squares += error * error;
            }
            double k = colonies.size();
            return new Group(
                    ratio,
                    k / (k - 1) * squares / (after * after),
                    1 / counted + 1 / countedBefore,
                    colonies.size());
        }

        private static double scaled(Wash wash, double bees) {
            return wash.mites() * bees / wash.bees();
        }
    }
}
