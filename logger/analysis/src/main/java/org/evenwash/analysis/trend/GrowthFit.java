package org.evenwash.analysis.trend;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.evenwash.analysis.fit.Search;
import org.evenwash.analysis.numeric.Level;
import org.evenwash.analysis.numeric.Limits;
import org.evenwash.analysis.numeric.Quantiles;
import org.evenwash.analysis.numeric.Roots;

/**
 * Exponential growth of the infestation, ln μ = b0 + b1·week + ln(bees), by Poisson regression.
 *
 * @param b0 ln(mites per bee) at week 0
 * @param b1 per week
 * @param v00 variance of b0 from the Poisson information, not scaled by dispersion
 * @param v01 covariance
 * @param v11 variance of b1
 * @param deviance 2Σ[m ln(m/μ)−(m−μ)]
 * @param phi Σ(m−μ)²/μ/(washes−2), not raised to 1; empty for two washes
 * @param factor normal quantile without overdispersion, else t with washes−2 degrees of freedom
 * @param slopeLimits 95 % profile limits of b1
 */
public record GrowthFit(
        double b0,
        double b1,
        double v00,
        double v01,
        double v11,
        double deviance,
        OptionalDouble phi,
        double factor,
        Limits slopeLimits) {

    private static final double FURTHEST_SLOPE = 1e9;

    /** The fit; nothing where all mites were counted on the first or all on the last date, so that the
     * steepest line would fit best. */
    public static Optional<GrowthFit> of(List<Sample> samples) {
        Series series = new Series(samples);
        return series.hasSlope() ? Optional.of(series.fit()) : Optional.empty();
    }

    /** Growth in per cent a week. */
    public double growth() {
        return 100 * Math.expm1(b1);
    }

    /** Its 95 % profile limits. */
    public Limits growthLimits() {
        return slopeLimits.map(slope -> 100 * Math.expm1(slope));
    }

    /** Weeks to double; negative: minus the weeks to halve; infinite if exactly level. */
    public double doublingWeeks() {
        return Math.log(2) / b1;
    }

    /** Week at which the fitted line meets {@code threshold} mites per 100 bees. */
    public double crossing(double threshold) {
        return (Math.log(threshold / 100) - b0) / b1;
    }

    /**
     * Fieller's 95 % limits of that week; nothing when they are unbounded, the slope not being told
     * from 0.
     */
    public Optional<Limits> crossingLimits(double threshold) {
        double q2 = factor * factor * scale();
        double level = b0 - Math.log(threshold / 100);
        double a = b1 * b1 - q2 * v11;
        double h = level * b1 - q2 * v01;
        double c = level * level - q2 * v00;
        if (!(a > 0)) {
            return Optional.empty();
        }
        double root = Math.sqrt(Math.max(0, h * h - a * c));
        return Optional.of(new Limits((-h - root) / a, (-h + root) / a));
    }

    /** Fitted mites per 100 bees. */
    public double infestation(double week) {
        return 100 * Math.exp(b0 + b1 * week);
    }

    /** 95 % band of the fitted line at one week, on the log scale. */
    public Limits band(double week) {
        double variance = scale() * (v00 + 2 * week * v01 + week * week * v11);
        double half = factor * Math.sqrt(Math.max(0, variance));
        double line = b0 + b1 * week;
        return new Limits(100 * Math.exp(line - half), 100 * Math.exp(line + half));
    }

    private double scale() {
        return Math.max(1, phi.orElse(1));
    }

    /** The counts, with b0 always at its best for a given slope. */
    private static final class Series {
        private final List<Sample> samples;
        private final double mites;
        private final double miteWeeks;
        private final double first;
        private final double last;

        Series(List<Sample> samples) {
            this.samples = samples;
            double count = 0;
            double weighted = 0;
            double low = Double.POSITIVE_INFINITY;
            double high = Double.NEGATIVE_INFINITY;
            for (Sample s : samples) {
                count += s.mites();
                low = Math.min(low, s.week());
                high = Math.max(high, s.week());
            }
            for (Sample s : samples) {
                weighted += s.mites() * (s.week() - low);
            }
            mites = count;
            miteWeeks = weighted;
            first = low;
            last = high;
        }

        /** The mites' mean date lies strictly inside the series: else the best slope is infinite. */
        boolean hasSlope() {
            boolean before = false;
            boolean after = false;
            for (Sample s : samples) {
                before |= s.mites() > 0 && s.week() < last;
                after |= s.mites() > 0 && s.week() > first;
            }
            return before && after;
        }

        GrowthFit fit() {
            double step = 1 / (last - first);
            double slope =
                    Roots.ofIncreasing(
                            b -> mites * meanWeek(b) - miteWeeks,
                            0,
                            step,
                            -FURTHEST_SLOPE,
                            FURTHEST_SLOPE);
            double lowest = logLikelihood(slope);
            double intercept = Math.log(mites) - logSum(slope) - slope * first;
            double deviance = 0;
            double pearson = 0;
            double mean = 0;
            double squares = 0;
            for (Sample s : samples) {
                double mu = expected(intercept, slope, s);
                deviance +=
                        2
                                * ((s.mites() > 0 ? s.mites() * Math.log(s.mites() / mu) : 0)
                                        - (s.mites() - mu));
                double residual = s.mites() - mu;
                pearson += mu > 0 ? residual * residual / mu : 0;
                mean += mu * (s.week() - first);
            }
            mean /= mites;
            for (Sample s : samples) {
                double mu = expected(intercept, slope, s);
                squares += mu * (s.week() - first - mean) * (s.week() - first - mean);
            }
            double centre = first + mean;
            double v11 = 1 / squares;
            int df = samples.size() - 2;
            OptionalDouble phi = df > 0 ? OptionalDouble.of(pearson / df) : OptionalDouble.empty();
            boolean scaled = phi.orElse(1) > 1;
            double factor = scaled ? Quantiles.student95(df) : Level.Z;
            double cutoff = Math.max(1, phi.orElse(1)) * factor * factor;
            return new GrowthFit(
                    intercept,
                    slope,
                    1 / mites + centre * centre * v11,
                    -centre * v11,
                    v11,
                    deviance,
                    phi,
                    factor,
                    new Limits(
                            limit(slope, lowest, cutoff, -step),
                            limit(slope, lowest, cutoff, step)));
        }

        private double expected(double intercept, double slope, Sample s) {
            return s.bees() * Math.exp(intercept + slope * s.week());
        }

        private double limit(double slope, double highest, double cutoff, double step) {
            double inside = slope;
            double stride = step;
            while (Math.abs(inside) < FURTHEST_SLOPE) {
                double outside = inside + stride;
                if (2 * (highest - logLikelihood(outside)) > cutoff) {
                    return Search.root(
                            b -> 2 * (highest - logLikelihood(b)) - cutoff,
                            Math.min(inside, outside),
                            Math.max(inside, outside));
                }
                inside = outside;
                stride *= 2;
            }
            return step > 0 ? Double.POSITIVE_INFINITY : Double.NEGATIVE_INFINITY;
        }

        private double logLikelihood(double slope) {
            return slope * miteWeeks - mites * logSum(slope);
        }

        /** ln Σ bees·e^(slope·(week − first)), without overflow. */
        private double logSum(double slope) {
            double shift = shift(slope);
            double sum = 0;
            for (Sample s : samples) {
                sum += s.bees() * Math.exp(slope * (s.week() - first) - shift);
            }
            return shift + Math.log(sum);
        }

        private double meanWeek(double slope) {
            double shift = shift(slope);
            double top = 0;
            double bottom = 0;
            for (Sample s : samples) {
                double weight = s.bees() * Math.exp(slope * (s.week() - first) - shift);
                top += weight * (s.week() - first);
                bottom += weight;
            }
            return top / bottom;
        }

        private double shift(double slope) {
            return Math.max(0, slope * (last - first));
        }
    }
}
