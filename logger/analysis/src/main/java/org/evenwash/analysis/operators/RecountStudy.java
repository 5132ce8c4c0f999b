package org.evenwash.analysis.operators;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.Result.Estimate;
import org.evenwash.analysis.Result.NotEnoughData;
import org.evenwash.analysis.numeric.Limits;
import org.evenwash.analysis.operators.OneWayPrecision.Measurement;

/**
 * How closely recounts of the same catches agree, by one operator and between operators.
 *
 * @param repeatability SD of one operator's recounts, in mites
 * @param reproducibility SD of recounts by different operators, in mites
 * @param raw analysis of the counts, catches pooled; empty where it cannot be made
 * @param root the same on √count, for catches of different size: there a difference of d means about
 *     2√m·d mites at a catch of m
 */
public record RecountStudy(
        Result repeatability,
        Result reproducibility,
        Optional<OneWayPrecision> raw,
        Optional<OneWayPrecision> root) {

    /** Fewer operators with a recount give no verdict. */
    public static final int MIN_OPERATORS = 5;

    /** Fewer counts of each give no verdict. */
    public static final int MIN_COUNTS = 3;

    /** One count of one catch; {@code mites} 0 or more. */
    public record Recount(String catchId, String operator, int mites) {
        public Recount {
            if (mites < 0) {
                throw new IllegalArgumentException(
                        "catch " + catchId + ": " + mites + " mites, expected 0 or more");
            }
        }
    }

    /** Analyses recounts of one or several catches. */
    public static RecountStudy of(List<Recount> recounts) {
        Optional<OneWayPrecision> raw =
                OneWayPrecision.of(
                        recounts.stream()
                                .map(r -> new Measurement(r.catchId(), r.operator(), r.mites()))
                                .toList());
        Optional<OneWayPrecision> root =
                OneWayPrecision.of(
                        recounts.stream()
                                .map(
                                        r ->
                                                new Measurement(
                                                        r.catchId(),
                                                        r.operator(),
                                                        Math.sqrt(r.mites())))
                                .toList());
        Optional<NotEnoughData> needs = needs(recounts, raw);
        if (needs.isPresent()) {
            return new RecountStudy(needs.get(), needs.get(), raw, root);
        }
        OneWayPrecision precision = raw.orElseThrow();
        return new RecountStudy(
                estimate(
                        precision.repeatability(),
                        precision.repeatabilityInterval(),
                        List.of(
                                String.format(
                                        Locale.ROOT,
                                        "Two recounts of a catch by one operator differ by more than %.1f"
                                                + " mites in about one case in twenty.",
                                        precision.repeatabilityLimit()))),
                estimate(
                        precision.reproducibility(),
                        precision.reproducibilityInterval(),
                        reproducibilityRemarks(precision)),
                raw,
                root);
    }

    /** How far each count lies above the mean of its catch, mites, in the order given. */
    public static double[] fromTheMean(List<Recount> recounts) {
        Map<String, Double> means =
                recounts.stream()
                        .collect(
                                Collectors.groupingBy(
                                        Recount::catchId, Collectors.averagingInt(Recount::mites)));
        return recounts.stream().mapToDouble(r -> r.mites() - means.get(r.catchId())).toArray();
    }

    private static List<String> reproducibilityRemarks(OneWayPrecision precision) {
        List<String> remarks = new ArrayList<>();
        remarks.add(
                String.format(
                        Locale.ROOT,
                        "Recounts of a catch by two operators differ by more than %.1f mites in about one"
                                + " case in twenty.",
                        precision.reproducibilityLimit()));
        remarks.add("Its limits are approximate (Satterthwaite).");
        if (precision.betweenOperators() == 0) {
            remarks.add(
                    "The part between operators was estimated below zero and taken as none: they differ no"
                            + " more than one operator's own recounts do.");
        }
        return remarks;
    }

    private static Result estimate(double sd, Limits limits, List<String> remarks) {
        return sd > 0
                ? new Estimate(
                        sd, Math.min(limits.lower(), sd), Math.max(limits.upper(), sd), remarks)
                : new NotEnoughData(
                        "recounts of larger catches: all recounts agreed, so the spread is less than whole"
                                + " counts can show");
    }

    private static Optional<NotEnoughData> needs(
            List<Recount> recounts, Optional<OneWayPrecision> raw) {
        Map<String, Integer> most = new HashMap<>();
        Map<String, Integer> cells = new HashMap<>();
        Set<String> operators = new HashSet<>();
        for (Recount r : recounts) {
            operators.add(r.operator());
            // The operator's name is put last and the length first, so that no two cells collide.
            String cell = r.catchId().length() + " " + r.catchId() + " " + r.operator();
            int count = cells.merge(cell, 1, Integer::sum);
            most.merge(r.operator(), count, Math::max);
        }
        long enough = most.values().stream().filter(n -> n >= MIN_COUNTS).count();
        if (enough < MIN_OPERATORS || raw.isEmpty()) {
            return Optional.of(
                    new NotEnoughData(
                            "at least "
                                    + MIN_COUNTS
                                    + " counts of one catch by each of "
                                    + MIN_OPERATORS
                                    + " operators (now "
                                    + operators.size()
                                    + " operators, "
                                    + enough
                                    + " of them with as many counts)"));
        }
        return Optional.empty();
    }
}
