package org.evenwash.logger.wash;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;
import java.util.stream.Collectors;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.agitation.AgitationTime;
import org.evenwash.analysis.agitation.ConditionalFit;
import org.evenwash.analysis.agitation.ModelChoice;
import org.evenwash.analysis.agitation.TimedWash;
import org.evenwash.analysis.recovery.PredictiveBeta;
import org.evenwash.analysis.recovery.RecountSummary;
import org.evenwash.logger.store.StudyFilter;
import org.evenwash.logger.store.StudyWash;

/**
 * What washes of several lengths, each followed by a second wash, tell about agitation time.
 *
 * @param used washes that count, latest first
 * @param leftOut washes that do not, with the reason
 * @param cut whether there are more washes than are looked at
 * @param answers time to each share, in their order
 * @param choice of curve for exhaustive second washes; empty without a fit
 * @param sameMethod fit for second washes by the same method; empty without one
 * @param recoveries by recipe, most mites first
 */
public record AgitationStudy(
        StudyFilter filter,
        SecondWash secondWash,
        List<StudyWash> used,
        List<LeftOut> leftOut,
        boolean cut,
        List<TimeTo> answers,
        Optional<ModelChoice> choice,
        Optional<ConditionalFit> sameMethod,
        List<RecipeRecovery> recoveries) {
    /** Shares of the mites to which a time is given. */
    public static final List<Double> SHARES = List.of(0.90, 0.95, 0.99);

    public AgitationStudy {
        used = List.copyOf(used);
        leftOut = List.copyOf(leftOut);
        answers = List.copyOf(answers);
        recoveries = List.copyOf(recoveries);
    }

    /**
     * @param byAPerson true where somebody left it out, false where a fact is missing
     */
    public record LeftOut(StudyWash wash, String why, boolean byAPerson) {}

    /** The time to a share of the mites, s. */
    public record TimeTo(double share, Result time) {}

    /** Washes of one length together. */
    public record AtTime(double agitation_s, int washes, int first, int second) {
        public int mites() {
            return first + second;
        }
    }

    /**
     * The recovery of one recipe.
     *
     * @param recipeId null for washes shaken by hand, whatever their length
     * @param recovery of the first wash, per cent
     * @param newWash what a new wash may be corrected by; empty if too little is known
     * @param enough for a verdict
     */
    public record RecipeRecovery(
            String recipeId,
            Integer version,
            String name,
            List<StudyWash> washes,
            RecountSummary summary,
            Result recovery,
            Optional<PredictiveBeta> newWash,
            boolean enough) {
        public RecipeRecovery {
            washes = List.copyOf(washes);
        }
    }

    /** The washes as the analysis takes them. */
    public List<TimedWash> timed() {
        return used.stream().map(wash -> timed(wash, secondWash)).toList();
    }

    /** What is missing before a recipe may rest on these washes; empty where nothing is. */
    public Optional<String> lacking() {
        return AgitationTime.lacking(timed());
    }

    /** By rising length. */
    public List<AtTime> byTime() {
        return used.stream()
                .collect(
                        Collectors.groupingBy(
                                wash -> whole_s(wash.agitation_s()),
                                TreeMap::new,
                                Collectors.toList()))
                .entrySet()
                .stream()
                .map(
                        group ->
                                new AtTime(
                                        group.getKey(),
                                        group.getValue().size(),
                                        sum(group.getValue(), true),
                                        sum(group.getValue(), false)))
                .toList();
    }

    private static int sum(List<StudyWash> washes, boolean first) {
        return washes.stream()
                .mapToInt(wash -> first ? wash.firstMites() : wash.secondMites())
                .sum();
    }

    static TimedWash timed(StudyWash wash, SecondWash kind) {
        OptionalDouble second_s =
                kind == SecondWash.SAME_METHOD
                        ? OptionalDouble.of(whole_s(wash.secondAgitation_s()))
                        : OptionalDouble.empty();
        return new TimedWash(
                whole_s(wash.agitation_s()), wash.firstMites(), wash.secondMites(), second_s);
    }

    /**
     * A bench measures 119.98 s where 120 were asked. Taken as they are, no two washes would have
     * the same time, and whether the curve fits could not be checked against their scatter.
     */
    static double whole_s(double agitation_s) {
        return Math.max(1, Math.rint(agitation_s));
    }
}
