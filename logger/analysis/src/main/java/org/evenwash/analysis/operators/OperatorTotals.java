package org.evenwash.analysis.operators;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.evenwash.analysis.numeric.Probabilities;

/**
 * Washes added up by operator, in the order in which the operators first appear. Washes without
 * mites say nothing about recovery and are left out.
 */
public final class OperatorTotals {

    private final Map<String, Total> totals = new LinkedHashMap<>();
    private final List<OperatorWash> washes;

    /** What one operator's washes add up to. */
    public record Total(String operator, int washes, double firstWashMites, double mites) {
        /** Share of the mites that the first washes caught. */
        public double share() {
            return firstWashMites / mites;
        }

        private Total plus(OperatorWash wash) {
            return new Total(
                    operator,
                    washes + 1,
                    firstWashMites + wash.firstWashMites(),
                    mites + wash.mites());
        }
    }

    /** Adds up washes; those without mites are dropped. */
    public OperatorTotals(List<OperatorWash> washes) {
        this.washes = washes.stream().filter(wash -> wash.mites() > 0).toList();
        for (OperatorWash wash : this.washes) {
            totals.merge(
                    wash.operator(),
                    new Total(wash.operator(), 0, 0, 0).plus(wash),
                    (before, first) -> before.plus(wash));
        }
    }

    public List<Total> list() {
        return List.copyOf(totals.values());
    }

    /** Share caught by the first wash over all operators; NaN without any mites. */
    public double pooled() {
        return list().stream().mapToDouble(Total::firstWashMites).sum()
                / list().stream().mapToDouble(Total::mites).sum();
    }

    /** χ² on the totals, with the given dispersion in the between-operator SD. */
    public Optional<Homogeneity> homogeneity(double phi) {
        return Homogeneity.of(
                list().stream().mapToDouble(Total::firstWashMites).toArray(),
                list().stream().mapToDouble(Total::mites).toArray(),
                phi);
    }

    /**
     * How much more than binomial the washes of one operator differ among themselves, all taken for
     * made under one condition; 1 when there is nothing to tell it from.
     */
    public double phiWithin() {
        return new Expected(List.of(washes)).phi();
    }

    /** The large-sample twin of the permutation test: χ²/(K−1)/φ and its F tail. */
    public Optional<QuasiF> quasiF() {
        int df2 = washes.size() - totals.size();
        if (df2 < 1) {
            return Optional.empty();
        }
        double phi = phiWithin();
        return homogeneity(phi)
                .map(
                        h -> {
                            double f = h.chi2() / h.df() / phi;
                            return new QuasiF(
                                    f, h.df(), df2, Probabilities.fisherAbove(f, h.df(), df2));
                        });
    }

    /** Quasi-binomial F. */
    public record QuasiF(double f, int df1, int df2, double p) {}
}
