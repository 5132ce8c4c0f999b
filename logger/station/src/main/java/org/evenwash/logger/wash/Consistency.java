package org.evenwash.logger.wash;

import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.UUID;
import org.evenwash.analysis.operators.ChartReading;
import org.evenwash.analysis.operators.Compared;
import org.evenwash.analysis.operators.GaugeVerdict;
import org.evenwash.analysis.operators.OperatorComparison;
import org.evenwash.analysis.operators.OperatorWash;
import org.evenwash.analysis.operators.RecountStudy;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.CatchCount;
import org.evenwash.logger.store.RunRecords;
import org.evenwash.logger.store.SampleBees;
import org.evenwash.logger.store.StudyFilter;
import org.evenwash.logger.store.StudyWash;
import org.evenwash.logger.store.StudyWashes;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.Outcome;

/**
 * Does work come out the same whoever does it, wherever and whenever? Recovery, counting, samples and
 * cycles, each with the least data that allow an answer.
 */
public final class Consistency {
    /** Of the random deals; kept with the result, so that anyone can deal again. */
    public static final long SEED = 1;

    /** Points that a chart can show apart. */
    private static final int CHART_POINTS = 60;

    private static final int MOST_CATCHES = 300;
    private static final int MOST_CYCLES = 300;

    private final Desk desk;

    private final Remembered<Dealt, OperatorComparison> dealt = new Remembered<>();

    Consistency(Desk desk) {
        this.desk = desk;
    }

    private record Dealt(Compared compared, List<OperatorWash> washes) {}

    /**
     * Recovery compared.
     *
     * @param washes with a second wash, that were compared or could not be
     * @param unnamed left out because what is compared is not recorded of them
     * @param excluded left out by a person
     * @param cut whether only the latest were looked at
     * @param recipes ways of washing among them; each is compared within itself
     */
    public record Comparison(
            OperatorComparison found,
            long seed,
            List<StudyWash> washes,
            int unnamed,
            int excluded,
            boolean cut,
            int recipes) {}

    public Comparison recovery(StudyFilter filter, Compared compared) {
        StudyWashes.Latest latest =
                desk.read(
                        handle ->
                                StudyWashes.latest(
                                        handle,
                                        filter,
                                        desk.demonstration(),
                                        AgitationStudies.MOST_WASHES));
        List<StudyWash> found = latest.washes();
        List<StudyWash> counted =
                found.stream().filter(wash -> wash.excludedWhy() == null).toList();
        List<StudyWash> named =
                counted.stream().filter(wash -> label(wash, compared) != null).toList();
        List<OperatorWash> washes =
                named.stream()
                        .map(
                                wash ->
                                        new OperatorWash(
                                                label(wash, compared),
                                                conditions(wash, compared),
                                                wash.firstMites(),
                                                wash.secondMites()))
                        .toList();
        OperatorComparison comparison =
                dealt.answer(
                        new Dealt(compared, washes),
                        asked -> OperatorComparison.of(asked.compared(), asked.washes(), SEED));
        return new Comparison(
                comparison,
                SEED,
                named,
                counted.size() - named.size(),
                found.size() - counted.size(),
                latest.cut(),
                (int) named.stream().map(Consistency::recipe).distinct().count());
    }

    /** Null where it is not recorded. */
    private static String label(StudyWash wash, Compared compared) {
        return switch (compared) {
            case OPERATORS -> wash.operator();
            case BENCHES -> bench(wash);
            case DAYS -> wash.sampledOn().toString();
            case BATCHES -> wash.batch();
        };
    }

    private static String bench(StudyWash wash) {
        return wash.benchId() == null ? "by hand" : wash.benchId();
    }

    private static String recipe(StudyWash wash) {
        return wash.recipeId() == null
                ? Objects.requireNonNullElse(wash.agitation_s(), 0.0) + " s by hand"
                : wash.recipeId() + ":" + wash.recipeVersion();
    }

    private static OperatorWash.Conditions conditions(StudyWash wash, Compared compared) {
        String recipe = recipe(wash);
        String operator = Objects.requireNonNullElse(wash.operator(), "");
        String day = wash.sampledOn().toString();
        return switch (compared) {
            case OPERATORS -> new OperatorWash.Conditions(recipe, bench(wash), day);
            case BENCHES -> new OperatorWash.Conditions(recipe, operator, day);
            case DAYS, BATCHES -> new OperatorWash.Conditions(recipe, operator, bench(wash));
        };
    }

    /**
     * How closely counts of one catch agree.
     *
     * @param reading each count against the mean of its catch, oldest first
     * @param crossed where everybody counted every catch equally often; says what it needs otherwise
     * @param catches counted more than once without knowing the earlier count
     * @param open recounts left out because the earlier count was known
     * @param counts that were taken, latest catch first
     */
    public record Counting(
            RecountStudy study,
            ChartReading reading,
            GaugeVerdict crossed,
            int catches,
            int open,
            List<CatchCount> counts) {}

    public Counting counting(StudyFilter filter) {
        List<CatchCount> all =
                desk.read(
                        handle ->
                                RunRecords.recounted(
                                        handle, filter, desk.demonstration(), MOST_CATCHES));
        List<CatchCount> blind =
                all.stream()
                        .filter(one -> one.operator() != null)
                        .filter(one -> !one.recount() || one.blind())
                        .toList();
        Map<UUID, Long> perCatch = new LinkedHashMap<>();
        blind.forEach(one -> perCatch.merge(one.passId(), 1L, Long::sum));
        List<CatchCount> counts =
                blind.stream().filter(one -> perCatch.get(one.passId()) > 1).toList();
        List<CatchCount> oldestFirst = new ArrayList<>(counts);
        Collections.reverse(oldestFirst);
        List<RecountStudy.Recount> recounts =
                oldestFirst.stream()
                        .map(
                                one ->
                                        new RecountStudy.Recount(
                                                one.passId().toString(),
                                                one.operator(),
                                                one.mites()))
                        .toList();
        return new Counting(
                RecountStudy.of(recounts),
                ChartReading.ofIndividuals(latest(RecountStudy.fromTheMean(recounts))),
                GaugeVerdict.of(
                        recounts.stream().mapToDouble(RecountStudy.Recount::mites).toArray(),
                        recounts.stream().map(RecountStudy.Recount::catchId).toArray(String[]::new),
                        recounts.stream()
                                .map(RecountStudy.Recount::operator)
                                .toArray(String[]::new)),
                (int) perCatch.values().stream().filter(n -> n > 1).count(),
                (int) all.stream().filter(one -> one.recount() && !one.blind()).count(),
                counts);
    }

    /** The last points of a run. */
    private static double[] latest(double[] values) {
        int from = Math.max(0, values.length - CHART_POINTS);
        double[] last = new double[values.length - from];
        System.arraycopy(values, from, last, 0, last.length);
        return last;
    }

    /**
     * Bees in the samples.
     *
     * @param counted one by one, oldest first; estimates follow their calibration and not the hand
     * @param samples all of them, latest first
     */
    public record Samples(ChartReading counted, List<SampleBees> samples) {}

    public Samples samples(StudyFilter filter) {
        List<SampleBees> latest =
                desk.read(
                        handle ->
                                RunRecords.samples(
                                        handle, filter, desk.demonstration(), MOST_CYCLES));
        List<SampleBees> counted =
                new ArrayList<>(
                        latest.stream()
                                .filter(one -> one.beeMeasure() == BeeMeasure.COUNTED)
                                .limit(CHART_POINTS)
                                .toList());
        Collections.reverse(counted);
        double[] bees = counted.stream().mapToDouble(SampleBees::bees).toArray();
        return new Samples(ChartReading.ofIndividuals(bees), latest);
    }

    /**
     * @param benchId null for all benches
     */
    public CycleTiming cycles(String benchId) {
        List<RunRecords.Timing> cycles =
                desk.read(
                        handle ->
                                RunRecords.timings(
                                        handle, benchId, desk.demonstration(), MOST_CYCLES));
        List<RunRecords.Timing> complete =
                new ArrayList<>(
                        cycles.stream().filter(one -> one.outcome() == Outcome.COMPLETE).toList());
        Collections.reverse(complete);
        double[] difference =
                complete.stream()
                        .mapToDouble(one -> one.agitation_s() - one.plannedAgitation_s())
                        .toArray();
        // Whatever was interrupted departs from its recipe; the others need not be read whole.
        List<CycleRecord> records =
                desk.read(
                        handle ->
                                RunRecords.records(
                                        handle,
                                        cycles.stream()
                                                .filter(one -> !one.conforms())
                                                .map(RunRecords.Timing::id)
                                                .toList()));
        return new CycleTiming(
                cycles,
                ChartReading.ofIndividuals(latest(difference)),
                CycleTiming.causes(records));
    }
}
