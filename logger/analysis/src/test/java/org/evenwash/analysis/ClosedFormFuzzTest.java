package org.evenwash.analysis;

import static org.assertj.core.api.Assertions.assertThat;

import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.function.IntFunction;
import org.evenwash.analysis.apiary.Apiary;
import org.evenwash.analysis.apiary.ColoniesToWash;
import org.evenwash.analysis.apiary.ColonyWash;
import org.evenwash.analysis.apiary.OperatingCharacteristic;
import org.evenwash.analysis.apiary.Precision;
import org.evenwash.analysis.beecount.BeeCount;
import org.evenwash.analysis.efficacy.BeforeAfter;
import org.evenwash.analysis.efficacy.Efficacy;
import org.evenwash.analysis.efficacy.Wash;
import org.evenwash.analysis.infestation.BeesInSample;
import org.evenwash.analysis.infestation.Infestation;
import org.evenwash.analysis.recovery.PredictiveBeta;
import org.evenwash.analysis.recovery.RecountSummary;
import org.evenwash.analysis.recovery.Recovery;
import org.evenwash.analysis.recovery.WashPair;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/**
 * Any input in range returns a printable result: no hang, no NaN, no exception of a library. 1,000,000
 * inputs with {@code mvn -Pfuzz}; one per cent of that otherwise. The seed is fixed and printed with a
 * failure, so that a failure can be repeated.
 */
@Tag("fuzz")
class ClosedFormFuzzTest {

    private static final int FULL_SIZE = 1_000_000;
    private static final long SEED = 20_261_124;

    /** Of the processor's time: what else the machine does is no fault of the fit. */
    private static final Duration SLOWEST = Duration.ofSeconds(5);

    private static final ThreadMXBean CPU = ManagementFactory.getThreadMXBean();

    private static final List<IntFunction<String>> STORIES =
            List.of(
                    ClosedFormFuzzTest::infestation,
                    ClosedFormFuzzTest::correctedInfestation,
                    ClosedFormFuzzTest::infestedBees,
                    ClosedFormFuzzTest::fillLine,
                    ClosedFormFuzzTest::mass,
                    ClosedFormFuzzTest::recovery,
                    ClosedFormFuzzTest::threePasses,
                    ClosedFormFuzzTest::apiaryMean,
                    ClosedFormFuzzTest::coloniesOver,
                    ClosedFormFuzzTest::plan,
                    ClosedFormFuzzTest::efficacy,
                    ClosedFormFuzzTest::groupEfficacy);

    @Test
    void anyInputInRange_returnsAPrintableResult() {
        int size = (int) (FULL_SIZE * (long) Integer.getInteger("evenwash.fuzz.percent", 1) / 100);
        long slowest = 0;
        String slowestInput = "";
        for (int i = 0; i < size; i++) {
            int seed = (int) (SEED + i);
            long before = CPU.getCurrentThreadCpuTime();
            String text;
            try {
                text = STORIES.get(i % STORIES.size()).apply(seed);
            } catch (RuntimeException broken) {
                throw new AssertionError("story " + i % STORIES.size() + ", seed " + seed, broken);
            }
            long took = CPU.getCurrentThreadCpuTime() - before;
            if (took > slowest) {
                slowest = took;
                slowestInput = "story " + i % STORIES.size() + ", seed " + seed;
            }
            assertThat(text)
                    .as("story " + i % STORIES.size() + ", seed " + seed)
                    .doesNotContain("NaN", "Infinity", "∞");
        }
        assertThat(Duration.ofNanos(slowest)).as(slowestInput).isLessThan(SLOWEST);
        System.out.println(
                size
                        + " closed-form inputs, slowest "
                        + slowest / 1_000_000
                        + " ms ("
                        + slowestInput
                        + ")");
    }

    private static String infestation(int seed) {
        var random = new Random(seed);
        return text(Infestation.counted(count(random), bees(random)), Quantity.INFESTATION);
    }

    private static String correctedInfestation(int seed) {
        var random = new Random(seed);
        var calibration = RecountSummary.of(pairs(random));
        double spread = random.nextInt(4) == 0 ? 0 : Math.pow(10, -4 + 4.5 * random.nextDouble());
        var bees = new BeesInSample(bees(random), spread);
        return text(Infestation.corrected(count(random), bees, calibration), Quantity.INFESTATION);
    }

    private static String infestedBees(int seed) {
        var random = new Random(seed);
        return text(Infestation.infestedBees(count(random), count(random)), Quantity.INFESTED_BEES);
    }

    private static String fillLine(int seed) {
        var random = new Random(seed);
        double[] counts = several(random);
        return text(BeeCount.atFillLine(counts), Quantity.BEES)
                + BeeCount.sampleAtFillLine(counts)
                        .map(bees -> infested(random, bees))
                        .orElse("too few");
    }

    private static String mass(int seed) {
        var random = new Random(seed);
        double[] grams = several(random);
        var counts = new double[grams.length];
        boolean proportional = random.nextBoolean();
        for (int i = 0; i < grams.length; i++) {
            counts[i] = proportional ? Math.min(9e6, 8 * grams[i]) : bees(random);
        }
        double mass = bees(random);
        return text(BeeCount.byMass(grams, counts, mass), Quantity.BEES);
    }

    private static String recovery(int seed) {
        var random = new Random(seed);
        List<WashPair> pairs = pairs(random);
        return text(Recovery.exhaustive(pairs), Quantity.RECOVERY)
                + text(Recovery.exhaustiveForVerdict(pairs), Quantity.RECOVERY)
                + text(Recovery.equalEffort(pairs), Quantity.RECOVERY)
                + text(
                        Recovery.withSecondWashOf(1 - random.nextDouble(), pairs),
                        Quantity.RECOVERY);
    }

    private static String threePasses(int seed) {
        var random = new Random(seed);
        return text(
                Recovery.threePasses(count(random), count(random), count(random)),
                Quantity.RECOVERY);
    }

    private static String apiaryMean(int seed) {
        var random = new Random(seed);
        var washes = new ArrayList<ColonyWash>();
        double[] bees = several(random);
        for (double each : bees) {
            washes.add(new ColonyWash(count(random), each));
        }
        int colonies = washes.size() + random.nextInt(4) * random.nextInt(1000);
        if (colonies == 0) {
            colonies = 1;
        }
        String corrected =
                PredictiveBeta.from(RecountSummary.of(pairs(random)))
                        .map(
                                law ->
                                        text(
                                                Apiary.meanCorrected(
                                                        washes, washes.size() + 1, law),
                                                Quantity.INFESTATION))
                        .orElse("no correction");
        return text(Apiary.mean(washes, colonies), Quantity.INFESTATION) + corrected;
    }

    private static String coloniesOver(int seed) {
        var random = new Random(seed);
        int colonies = 1 + (int) Math.pow(10, 5 * random.nextDouble());
        int washed = random.nextInt(8) == 0 ? colonies : 1 + random.nextInt(colonies);
        int over = random.nextInt(3) == 0 ? 0 : random.nextInt(washed + 1);
        return text(Apiary.atMostOver(over, washed, colonies), Quantity.COLONIES)
                + text(Apiary.atLeastOver(over, washed, colonies), Quantity.COLONIES)
                + ColoniesToWash.ifNoneIsOver(random.nextInt(colonies + 1), colonies)
                + ColoniesToWash.ifOneIsOver(random.nextInt(colonies + 1), colonies);
    }

    private static String plan(int seed) {
        var random = new Random(seed);
        double rate = random.nextInt(5) == 0 ? 0 : 1000 * Math.pow(random.nextDouble(), 6);
        double threshold = 1000 * Math.pow(random.nextDouble(), 6);
        double recovery = 1 - random.nextDouble();
        double bees = bees(random);
        return OperatingCharacteristic.corrected(rate, bees, threshold, recovery).toString()
                + OperatingCharacteristic.uncorrected(rate, bees, threshold, recovery)
                + OperatingCharacteristic.ofPatchyColony(rate, bees, threshold, recovery, 0.3)
                + Precision.bees(rate, recovery, 0.3);
    }

    private static String efficacy(int seed) {
        var random = new Random(seed);
        BeforeAfter treated = colony(random);
        BeforeAfter control = colony(random);
        return text(Efficacy.withControl(treated, control), Quantity.EFFICACY)
                + text(Efficacy.withoutControl(treated), Quantity.EFFICACY)
                + text(
                        Efficacy.againstControl(control.after(), treated.after()),
                        Quantity.EFFICACY);
    }

    private static String groupEfficacy(int seed) {
        var random = new Random(seed);
        List<BeforeAfter> treated = group(random);
        List<BeforeAfter> control = group(random);
        return text(Efficacy.ofGroups(treated, control), Quantity.EFFICACY)
                + text(Efficacy.ofGroupWithoutControl(treated), Quantity.EFFICACY);
    }

    private static String infested(Random random, BeesInSample bees) {
        return text(Infestation.estimated(count(random), bees), Quantity.INFESTATION);
    }

    /** The text that a reader sees, after checking that a program would not see a NaN either. */
    private static String text(Result result, Quantity quantity) {
        if (result instanceof Result.Estimate estimate) {
            assertThat(estimate.lower()).isLessThanOrEqualTo(estimate.value());
            assertThat(estimate.upper()).isGreaterThanOrEqualTo(estimate.value());
        }
        return ResultText.of(result, quantity) + result.remarks();
    }

    /** Zeros, small counts as washes give them, and a few huge ones. */
    private static int count(Random random) {
        return switch (random.nextInt(8)) {
            case 0, 1 -> 0;
            case 2 -> 1;
            case 3, 4, 5 -> random.nextInt(40);
            case 6 -> random.nextInt(2_000);
            default -> random.nextInt(Require.MOST_MITES + 1);
        };
    }

    private static double bees(Random random) {
        return switch (random.nextInt(6)) {
            case 0 -> 300;
            case 1 -> 1;
            case 2 -> Math.pow(10, -3 + 10 * random.nextDouble());
            default -> 150 + random.nextInt(3000) / 10.0;
        };
    }

    /** No row, one, two, several; all alike, or all different. */
    private static double[] several(Random random) {
        var values = new double[random.nextInt(4) == 0 ? random.nextInt(3) : random.nextInt(14)];
        boolean alike = random.nextInt(4) == 0;
        for (int i = 0; i < values.length; i++) {
            values[i] = alike && i > 0 ? values[0] : bees(random);
        }
        return values;
    }

    private static List<WashPair> pairs(Random random) {
        var pairs = new ArrayList<WashPair>();
        int rows = random.nextInt(4) == 0 ? random.nextInt(3) : random.nextInt(16);
        int manner = random.nextInt(6);
        for (int i = 0; i < rows; i++) {
            int few = random.nextInt(30);
            pairs.add(
                    switch (manner) {
                        case 0 -> new WashPair(6 * (i % 2), 6 * ((i + 1) % 2));
                        case 1 -> new WashPair(random.nextInt(2), 0);
                        case 2 -> new WashPair(few, 0);
                        case 3 -> new WashPair(20, 2);
                        case 4 -> new WashPair(count(random), count(random));
                        default -> new WashPair(few, random.nextInt(8));
                    });
        }
        return pairs;
    }

    private static BeforeAfter colony(Random random) {
        return new BeforeAfter(
                new Wash(count(random), bees(random)), new Wash(count(random), bees(random)));
    }

    private static List<BeforeAfter> group(Random random) {
        var group = new ArrayList<BeforeAfter>();
        int size = random.nextInt(4) == 0 ? random.nextInt(3) : random.nextInt(14);
        BeforeAfter first = colony(random);
        boolean alike = random.nextInt(4) == 0;
        for (int i = 0; i < size; i++) {
            group.add(alike ? first : colony(random));
        }
        return group;
    }
}
