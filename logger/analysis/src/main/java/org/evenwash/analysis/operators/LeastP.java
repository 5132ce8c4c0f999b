package org.evenwash.analysis.operators;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.evenwash.analysis.Result.NotEnoughData;

/**
 * The least p-value that dealing out washes can give: even when all the best washes are one
 * operator's, that deal is one of all, with its mirror images where operators made equally many
 * washes. Three washes each of two operators under one condition can be dealt out in 20 ways, and
 * the clearest difference of all comes up in two of them.
 */
final class LeastP {

    /** More extra washes are not looked for; far fewer always do. */
    private static final int MOST_MORE = 100;

    /** Washes of each operator in each stratum that can tell operators apart. */
    private final List<Map<String, Integer>> strata;

    private final List<OperatorWash.Conditions> conditions;

    /** @param strata of exchangeable washes; those in which all or no mites were caught tell nothing */
    LeastP(List<List<OperatorWash>> strata) {
        List<List<OperatorWash>> telling = strata.stream().filter(LeastP::tells).toList();
        this.strata =
                telling.stream()
                        .map(
                                washes ->
                                        washes.stream()
                                                .collect(
                                                        Collectors.groupingBy(
                                                                OperatorWash::operator,
                                                                LinkedHashMap::new,
                                                                Collectors.summingInt(w -> 1))))
                        .map(counts -> (Map<String, Integer>) counts)
                        .toList();
        conditions = telling.stream().map(washes -> washes.get(0).conditions()).toList();
    }

    private static boolean tells(List<OperatorWash> washes) {
        return washes.stream().anyMatch(wash -> wash.firstWashMites() > 0)
                && washes.stream().anyMatch(wash -> wash.secondWashMites() > 0);
    }

    /** Exactly 5 % is none, and 2 in 40 must not become less by rounding. */
    private static boolean canShow(double least) {
        return least < OperatorComparison.DIFFERENCE_P * (1 - 1e-9);
    }

    double value() {
        return of(strata);
    }

    /** What would let a difference be seen; empty where one can be, or no condition tells anything. */
    Optional<NotEnoughData> needs(Compared compared) {
        double least = value();
        if (strata.isEmpty() || canShow(least)) {
            return Optional.empty();
        }
        int washes =
                strata.stream().flatMap(s -> s.values().stream()).mapToInt(Integer::intValue).sum();
        return Optional.of(
                new NotEnoughData(
                        String.format(
                                Locale.ROOT,
                                "%s, or %s: with the %d washes that can be compared now, even the clearest"
                                        + " difference arises in %.1f %% of all deals by chance",
                                moreOfOne(compared),
                                moreOfTwo(compared),
                                washes,
                                100 * least)));
    }

    /** The fewest more washes of one operator under conditions that are there. */
    private String moreOfOne(Compared compared) {
        for (int more = 1; more < MOST_MORE; more++) {
            for (int s = 0; s < strata.size(); s++) {
                for (String operator : strata.get(s).keySet()) {
                    List<Map<String, Integer>> grown = new ArrayList<>(strata);
                    grown.set(s, new HashMap<>(strata.get(s)));
                    grown.get(s).merge(operator, more, Integer::sum);
                    if (canShow(of(grown))) {
                        return washes(more, compared) + operator + under(conditions.get(s));
                    }
                }
            }
        }
        throw new IllegalStateException("no number of washes would do");
    }

    /** The fewest more washes of each of two under conditions of which there are none yet. */
    private String moreOfTwo(Compared compared) {
        List<String> two = strata.get(0).keySet().stream().limit(2).toList();
        for (int more = 1; more < MOST_MORE; more++) {
            List<Map<String, Integer>> grown = new ArrayList<>(strata);
            grown.add(Map.of(two.get(0), more, two.get(1), more));
            if (canShow(of(grown))) {
                return washes(more, compared)
                        + "each of "
                        + String.join(" and ", two)
                        + " under other conditions that both share";
            }
        }
        throw new IllegalStateException("no number of washes would do");
    }

    private static String washes(int more, Compared compared) {
        return more
                + (more == 1 ? " more wash " : " more washes ")
                + (compared == Compared.OPERATORS ? "by " : "of ");
    }

    private static String under(OperatorWash.Conditions conditions) {
        String named =
                Stream.of(conditions.recipe(), conditions.bench(), conditions.day())
                        .filter(one -> !one.isBlank())
                        .collect(Collectors.joining(", "));
        return named.isEmpty() ? "" : " under the conditions of before (" + named + ")";
    }

    private static double of(List<Map<String, Integer>> strata) {
        double logDeals = 0;
        Map<String, List<Integer>> patterns = new HashMap<>();
        for (int s = 0; s < strata.size(); s++) {
            int size = 0;
            for (Map.Entry<String, Integer> one : strata.get(s).entrySet()) {
                size += one.getValue();
                logDeals -= logFactorial(one.getValue());
                List<Integer> pattern =
                        patterns.computeIfAbsent(one.getKey(), name -> new ArrayList<>());
                while (pattern.size() < s) {
                    pattern.add(0);
                }
                pattern.add(one.getValue());
            }
            logDeals += logFactorial(size);
        }
        for (List<Integer> pattern : patterns.values()) {
            while (pattern.size() < strata.size()) {
                pattern.add(0);
            }
        }
        // Operators with as many washes in every stratum can change places in any deal.
        double logMirrors =
                patterns.values().stream()
                        .collect(Collectors.groupingBy(p -> p, Collectors.counting()))
                        .values()
                        .stream()
                        .mapToDouble(alike -> logFactorial(alike.intValue()))
                        .sum();
        return Math.min(1, Math.exp(logMirrors - logDeals));
    }

    private static double logFactorial(int n) {
        double sum = 0;
        for (int i = 2; i <= n; i++) {
            sum += Math.log(i);
        }
        return sum;
    }
}
