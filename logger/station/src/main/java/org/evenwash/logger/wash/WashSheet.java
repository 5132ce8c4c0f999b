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
        List<StoredTicket> tickets,
        List<Correction> corrections,
        List<String> flags,
        boolean demonstration) {
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

    /** How many more bees would settle an undecided verdict; empty where that is not the question. */
    public Optional<String> settle() {
        if (verdict == null || verdict.call() != Verdict.Call.UNDECIDED || wash.bees() == null) {
            return Optional.empty();
        }
        int bees = (int) Math.round(wash.bees());
        double limit = verdict.threshold().per100Bees().orElseThrow();
        return Optional.of(MoreBees.toSettle(mites().orElseThrow(), bees, limit).words());
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
                tickets,
                corrections,
                flags,
                demonstration);
    }
}
