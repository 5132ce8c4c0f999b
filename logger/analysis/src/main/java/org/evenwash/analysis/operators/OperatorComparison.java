package org.evenwash.analysis.operators;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.Result.NotEnoughData;

/**
 * Do the operators' first washes catch the same share of the mites? The verdict rests on whole washes
 * dealt out anew within equal recipe, bench and day; a difference is a reason to look at how, with
 * what and in which season the washes were made, never a finding about a person. Benches, days and
 * batches of spirit are compared in the same way, each under the label of an operator.
 *
 * @param compared what the label of each wash stands for
 * @param verdict on whether there is a difference at all
 * @param spread SD between operators, as a share (0.05 = 5 percentage points)
 * @param test empty where it could not be made
 * @param quasiF its large-sample twin; empty with several conditions, which it would lump together
 * @param homogeneity χ² on mites, whatever the conditions, for comparison only
 * @param phiWithin scatter of one operator's washes against chance in counting, at least 1
 * @param funnel one point per operator, each against what the conditions of these washes lead to
 *     expect; empty without mites
 * @param needs what is missing for a verdict; empty where there is one
 * @param remarks in full sentences
 */
public record OperatorComparison(
        Compared compared,
        Verdict verdict,
        Result spread,
        Optional<WashPermutation> test,
        Optional<OperatorTotals.QuasiF> quasiF,
        Optional<Homogeneity> homogeneity,
        double phiWithin,
        List<Funnel.Point> funnel,
        Optional<NotEnoughData> needs,
        List<String> remarks) {

    public static final int MIN_OPERATORS = 2;
    public static final int MIN_WASHES_EACH = 3;
    public static final int MIN_MITES_EACH = 30;

    /** Dispersion from which it is mentioned; less would read "1.0 times". */
    private static final double WORTH_SAYING = 1.05;

    /** A p-value below this is called a difference. */
    public static final double DIFFERENCE_P = 0.05;

    /** What can be said. */
    public enum Verdict {
        DIFFERENCE,
        NO_DIFFERENCE_SEEN,
        NOT_ENOUGH_DATA
    }

    public OperatorComparison {
        funnel = List.copyOf(funnel);
        remarks = List.copyOf(remarks);
    }

    /**
     * Compares operators.
     *
     * @param seed of the deals; keep it with the result, the same seed gives the same p
     */
    public static OperatorComparison of(List<OperatorWash> washes, long seed) {
        return of(Compared.OPERATORS, washes, seed);
    }

    /**
     * Compares anything else that washes can be grouped by.
     *
     * @param washes each with the label of its group for an operator, and with the conditions that
     *     {@link Compared#conditions} names
     * @param seed of the deals; keep it with the result, the same seed gives the same p
     */
    public static OperatorComparison of(Compared compared, List<OperatorWash> washes, long seed) {
        List<List<OperatorWash>> strata = WashPermutation.exchangeable(washes);
        List<OperatorWash> exchangeable = strata.stream().flatMap(List::stream).toList();
        Expected expected = new Expected(strata);
        OperatorTotals totals = new OperatorTotals(exchangeable);
        Optional<NotEnoughData> needs = needs(compared, washes, strata, totals);
        Optional<WashPermutation> test =
                needs.isPresent()
                        ? Optional.empty()
                        : WashPermutation.within(strata, WashPermutation.DEALS, seed);
        if (needs.isEmpty() && test.isEmpty()) {
            needs = Optional.of(noDifferenceVisible());
        }
        double phi = expected.phi();
        Verdict verdict =
                test.map(
                                t ->
                                        t.p() < DIFFERENCE_P
                                                ? Verdict.DIFFERENCE
                                                : Verdict.NO_DIFFERENCE_SEEN)
                        .orElse(Verdict.NOT_ENOUGH_DATA);
        List<Funnel.Point> funnel = Funnel.points(totals, expected);
        Result spread =
                needs.isPresent() ? needs.get() : BetweenOperators.spread(expected, compared);
        return new OperatorComparison(
                compared,
                verdict,
                spread,
                test,
                strata.size() == 1 ? totals.quasiF() : Optional.empty(),
                totals.homogeneity(1),
                phi,
                funnel,
                needs,
                remarks(compared, washes, exchangeable, verdict, test, phi, funnel));
    }

    /** Whether the conditions lead to expect different shares of those compared. */
    public boolean adjusted() {
        return adjusted(funnel);
    }

    private static boolean adjusted(List<Funnel.Point> funnel) {
        return funnel.stream().anyMatch(point -> point.alike() != point.share());
    }

    private static Optional<NotEnoughData> needs(
            Compared compared,
            List<OperatorWash> washes,
            List<List<OperatorWash>> strata,
            OperatorTotals totals) {
        long operators = new OperatorTotals(washes).list().size();
        if (operators < MIN_OPERATORS) {
            return Optional.of(
                    new NotEnoughData(
                            "washes with mites "
                                    + (compared == Compared.OPERATORS ? "by" : "of")
                                    + " at least "
                                    + MIN_OPERATORS
                                    + " "
                                    + compared.many()
                                    + " (now "
                                    + operators
                                    + ")"));
        }
        if (strata.isEmpty()) {
            return Optional.of(
                    new NotEnoughData(
                            "washes "
                                    + (compared == Compared.OPERATORS ? "by" : "of")
                                    + " different "
                                    + compared.many()
                                    + " "
                                    + compared.conditions()
                                    + ": now "
                                    + compared.one()
                                    + " and conditions cannot be told apart"));
        }
        double pooled = totals.pooled();
        if (pooled == 0 || pooled == 1) {
            return Optional.of(noDifferenceVisible());
        }
        String few =
                totals.list().stream()
                        .filter(t -> t.washes() < MIN_WASHES_EACH || t.mites() < MIN_MITES_EACH)
                        .map(
                                t ->
                                        t.operator()
                                                + ": "
                                                + t.washes()
                                                + " washes, "
                                                + (long) t.mites()
                                                + " mites")
                        .collect(Collectors.joining("; "));
        return few.isEmpty()
                ? new LeastP(strata).needs(compared)
                : Optional.of(
                        new NotEnoughData(
                                "at least "
                                        + MIN_WASHES_EACH
                                        + " washes and "
                                        + MIN_MITES_EACH
                                        + " mites of each "
                                        + compared.one()
                                        + ", under conditions shared with another (now "
                                        + few
                                        + ")"));
    }

    private static NotEnoughData noDifferenceVisible() {
        return new NotEnoughData(
                "washes in which some mites came off and some stayed on: with all or none caught, no"
                        + " difference can be seen");
    }

    private static List<String> remarks(
            Compared compared,
            List<OperatorWash> washes,
            List<OperatorWash> exchangeable,
            Verdict verdict,
            Optional<WashPermutation> test,
            double phi,
            List<Funnel.Point> funnel) {
        List<String> remarks = new ArrayList<>();
        test.ifPresent(
                t ->
                        remarks.add(
                                String.format(
                                        Locale.ROOT,
                                        "Differences as large as these arose in %.2f %% of the deals made by"
                                                + " chance (p = %.4f).",
                                        100 * t.p(),
                                        t.p())));
        switch (verdict) {
            case DIFFERENCE ->
                    remarks.add(
                            "The shares differ by more than chance. Look first at what differed besides the "
                                    + compared.one()
                                    + ": "
                                    + compared.lookAt()
                                    + ".");
            case NO_DIFFERENCE_SEEN ->
                    remarks.add(
                            "No difference beyond chance was seen; that does not show that there is none."
                                    + " One point outside the inner limits is no finding by itself.");
            case NOT_ENOUGH_DATA -> {}
        }
        boolean outside = funnel.stream().anyMatch(p -> p.place() != Funnel.Place.INSIDE);
        if (outside && verdict == Verdict.DIFFERENCE) {
            remarks.add(
                    "Chance alone puts one "
                            + compared.one()
                            + " in twenty outside the inner limits, one in five hundred outside the"
                            + " outer ones.");
        }
        long mites = washes.stream().filter(w -> w.mites() > 0).count();
        long alone = mites - exchangeable.size();
        if (alone > 0) {
            remarks.add(
                    (alone == 1
                                    ? "One wash was made under conditions that no other "
                                    : alone + " washes were made under conditions that no other ")
                            + compared.one()
                            + (alone == 1
                                    ? " shared, and was left out."
                                    : " shared, and were left out."));
        }
        if (adjusted(funnel)) {
            remarks.add(
                    "Washes under different conditions are together: each "
                            + compared.one()
                            + " is held against what all brought off under the conditions of the same"
                            + " washes.");
        }
        if (phi >= WORTH_SAYING) {
            remarks.add(
                    String.format(
                            Locale.ROOT,
                            "Washes of one %s scatter %.1f times as much as chance in counting; the"
                                    + " limits are widened for it.",
                            compared.one(),
                            phi));
        }
        return remarks;
    }
}
