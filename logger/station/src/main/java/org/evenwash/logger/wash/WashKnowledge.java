package org.evenwash.logger.wash;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.stream.Collectors;
import org.evenwash.analysis.protocol.Point;
import org.evenwash.analysis.protocol.WashFacts;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.CycleLine;
import org.evenwash.logger.store.Frame;
import org.evenwash.logger.store.Handling;
import org.evenwash.logger.store.MiteCount;
import org.evenwash.logger.store.QueenCheck;
import org.evenwash.logger.store.SpiritBatch;
import org.evenwash.logger.store.Wash;
import org.evenwash.record.Pass;

/** What is known of a wash, put so that a protocol can be held against it. */
public final class WashKnowledge {
    private WashKnowledge() {}

    public static WashFacts facts(WashSheet sheet) {
        WashFacts.Builder facts = WashFacts.builder();
        sample(facts, sheet.wash());
        Optional<PassSheet> first = sheet.pass(Pass.FIRST);
        first.ifPresent(pass -> agitation(facts, pass));
        first.ifPresent(pass -> spirit(facts, pass));
        counts(facts, sheet);
        calibrations(facts, sheet.calibrations());
        return facts.build();
    }

    private static void sample(WashFacts.Builder facts, Wash wash) {
        if (wash.bees() != null) {
            bees(facts, wash.bees(), wash.beeMeasure(), wash.beesLogSd());
        }
        if (wash.frame() != Frame.NOT_STATED) {
            facts.origin(origin(wash.frame()));
        }
        if (wash.queenCheck() != QueenCheck.NOT_STATED) {
            facts.queenCheck(wash.queenCheck() != QueenCheck.NOT_CHECKED);
        }
        if (wash.rinses() != null) {
            facts.rinses(wash.rinses());
        }
        handling(facts, wash.handling());
    }

    private static void handling(WashFacts.Builder facts, Handling handling) {
        stated(handling.frames(), facts::frames);
        stated(handling.liquid_mL(), facts::liquid_mL);
        stated(handling.beesCovered(), facts::beesCovered);
        stated(handling.beeSieve_mm(), facts::beeSieve_mm);
        stated(handling.miteSieve_mm(), facts::miteSieve_mm);
        stated(handling.jarWallsChecked(), facts::jarWallsChecked);
    }

    private static <T> void stated(T value, Consumer<T> fact) {
        if (value != null) {
            fact.accept(value);
        }
    }

    private static void bees(
            WashFacts.Builder facts, double bees, BeeMeasure measure, Double logSd) {
        if (measure == BeeMeasure.COUNTED) {
            facts.beesCounted((int) Math.round(bees));
            return;
        }
        // 1.96: the limits of a 95 % interval on the log scale.
        double spread = logSd == null ? 1 : Math.exp(1.96 * logSd);
        facts.beesEstimated(bees, bees / spread, bees * spread, words(measure));
    }

    private static String words(BeeMeasure measure) {
        return switch (measure) {
            case FILL_LINE -> "fill line";
            case MASS -> "mass";
            case COUNTED, NOT_STATED -> "a way not stated";
        };
    }

    private static Point.Origin origin(Frame frame) {
        return switch (frame) {
            case BROOD_NEST -> Point.Origin.BROOD_NEST;
            case HONEY -> Point.Origin.HONEY_SUPER;
            case OTHER, NOT_STATED -> Point.Origin.OTHER;
        };
    }

    private static void agitation(WashFacts.Builder facts, PassSheet pass) {
        List<CycleLine> cycles = pass.cycles();
        if (cycles.isEmpty()) {
            if (pass.agitation_s() != null) {
                facts.agitationByHand_s(pass.agitation_s());
            }
            return;
        }
        double planned_s = cycles.stream().mapToDouble(CycleLine::plannedAgitation_s).sum();
        double actual_s = cycles.stream().mapToDouble(CycleLine::agitation_s).sum();
        boolean conform = cycles.stream().allMatch(CycleLine::conforms);
        String departures =
                cycles.stream()
                        .map(CycleLine::departures)
                        .filter(text -> !text.isEmpty())
                        .collect(Collectors.joining("; "));
        facts.agitationRecorded(planned_s, actual_s, conform, departures);
        if (pass.soak() != null) {
            facts.soak_s(pass.soak().soak_s());
        }
    }

    private static void spirit(WashFacts.Builder facts, PassSheet pass) {
        SpiritBatch batch = pass.spirit();
        if (batch == null) {
            return;
        }
        liquid(batch.kind()).ifPresent(facts::liquid);
        SpiritState then = pass.spiritThen();
        if (then.hasStrength()) {
            facts.strength_pctVol(then.weakest_pctVol(), then.strongest_pctVol(), then.how());
        }
        if (pass.spiritUse() != null) {
            facts.spiritUses(pass.spiritUse() - 1);
        }
    }

    /** Only what the label says in one of the known words; anything else stays not recorded. */
    private static Optional<Point.Liquid> liquid(String kind) {
        String word = kind.strip().toLowerCase(Locale.ROOT).replace(' ', '-');
        return Arrays.stream(Point.Liquid.values())
                .filter(one -> one.word().equals(word))
                .findFirst();
    }

    /** Without one nothing is said: it may have been done elsewhere. */
    private static void calibrations(WashFacts.Builder facts, WashCalibrations calibrations) {
        if (calibrations.bees() != null) {
            facts.measureCalibrated(calibrations.beesAge_days());
        }
        if (calibrations.recovery() != null) {
            facts.recoveryDetermined(calibrations.recoveryAge_days());
        }
    }

    private static void counts(WashFacts.Builder facts, WashSheet sheet) {
        Optional<Integer> first = sheet.mites();
        if (first.isEmpty()) {
            facts.firstCountMissing();
            return;
        }
        facts.firstCount(first.get());
        Optional<MiteCount> blind =
                sheet.pass(Pass.FIRST).stream()
                        .flatMap(pass -> pass.recounts().stream())
                        .filter(MiteCount::blind)
                        .findFirst();
        blind.ifPresentOrElse(
                recount -> facts.blindRecount(first.get(), recount.mites()), facts::noRecount);
        Optional<MiteCount> second = sheet.pass(Pass.SECOND).flatMap(PassSheet::firstCount);
        second.ifPresent(count -> facts.laterWashes(first.get(), count.mites()));
        // Counts cannot say that there was no wash more; a person can, and two counts outdo a slip.
        stated(
                sheet.wash().handling().timesWashed(),
                times -> facts.timesWashed(second.isPresent() ? Math.max(2, times) : times));
        sheet.pass(Pass.BLANK)
                .flatMap(PassSheet::firstCount)
                .ifPresent(count -> facts.carryOverBlank(count.mites()));
    }
}
