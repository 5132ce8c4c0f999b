package org.evenwash.logger.wash;

import java.util.List;
import java.util.Optional;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.protocol.Check;
import org.evenwash.analysis.protocol.Protocol;
import org.evenwash.analysis.threshold.MoreBees;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.analysis.threshold.Verdict;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.Correction;
import org.evenwash.logger.store.Operator;
import org.evenwash.logger.store.StoredTicket;
import org.evenwash.logger.store.Wash;
import org.evenwash.record.Pass;

/**
 * Everything about one wash.
 *
 * @param operator null if not stated
 * @param passes first, second, blank, as far as they were begun
 * @param infestation mites per 100 bees of the first wash, not corrected for recovery
 * @param calibrations that it rests on
 * @param protocol that the checks hold it against
 * @param checks point by point, in the order of the wash
 * @param verdict against the chosen threshold, null while none is chosen
 * @param together with the other washes of that day; null where it stands alone
 * @param flags what a reader must know, in full sentences
 * @param demonstration whether the database is a demonstration
 */
public record WashSheet(
        Wash wash,
        Colony colony,
        Apiary apiary,
        Operator operator,
        List<PassSheet> passes,
        Result infestation,
        WashCalibrations calibrations,
        Protocol protocol,
        List<Check> checks,
        Verdict verdict,
        Together together,
        List<StoredTicket> tickets,
        List<Correction> corrections,
        List<String> flags,
        boolean demonstration) {
    /**
     * All washes of the colony on that day, which the colony is judged by.
     *
     * @param verdict null while no threshold is chosen
     */
    public record Together(SameDay day, Verdict verdict) {
        public int others() {
            return day.washes().size() - 1;
        }
    }

    public WashSheet {
        passes = List.copyOf(passes);
        checks = List.copyOf(checks);
        tickets = List.copyOf(tickets);
        corrections = List.copyOf(corrections);
        flags = List.copyOf(flags);
    }

    public Optional<PassSheet> pass(Pass kind) {
        return passes.stream().filter(sheet -> sheet.pass().kind() == kind).findFirst();
    }

    /** Mites of the first wash, first count; empty until counted. */
    public Optional<Integer> mites() {
        return pass(Pass.FIRST).flatMap(PassSheet::firstCount).map(count -> count.mites());
    }

    /**
     * What would settle an undecided verdict, that of the whole day where there were other washes;
     * empty where that is not the question.
     */
    public Optional<MoreBees> settle() {
        Verdict colony = together == null ? verdict : together.verdict();
        if (colony == null || colony.call() != Verdict.Call.UNDECIDED || wash.bees() == null) {
            return Optional.empty();
        }
        double limit = colony.threshold().per100Bees().orElseThrow();
        MoreBees more =
                MoreBees.toSettle(
                        together == null ? mites().orElseThrow() : together.day().mites(),
                        beesTogether(),
                        wash.beeMeasure().estimated(),
                        limit);
        // A limit within rounding of the threshold: better nothing than a word against the verdict.
        return Optional.of(more).filter(one -> !(one instanceof MoreBees.Settled));
    }

    /** Bees of this wash and of those judged with it. */
    public double beesTogether() {
        return together == null ? wash.bees() : together.day().bees();
    }

    /** The same sheet judged: its facts held against a protocol, its infestation against a threshold. */
    WashSheet judged(Protocol against, Optional<Threshold> threshold) {
        return new WashSheet(
                wash,
                colony,
                apiary,
                operator,
                passes,
                infestation,
                calibrations,
                against,
                against.check(WashKnowledge.facts(this)),
                Verdict.of(threshold, infestation).orElse(null),
                together == null
                        ? null
                        : new Together(
                                together.day(), together.day().verdict(threshold).orElse(null)),
                tickets,
                corrections,
                flags,
                demonstration);
    }
}
