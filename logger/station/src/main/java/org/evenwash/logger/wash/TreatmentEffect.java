package org.evenwash.logger.wash;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.efficacy.BeforeAfter;
import org.evenwash.analysis.efficacy.Wash;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.ColonyEvent;

/**
 * What a treatment did, by washes before and after it.
 *
 * @param event the treatment
 * @param apiary where the colony was washed
 * @param own the treated colony's washes; empty where one is missing or something else came between
 * @param alike other colonies there that had the same treatment within a few days
 * @param controls colonies there that had no treatment between their washes
 * @param leftOut colonies that were not compared, each with the reason
 * @param efficacy of this colony, per cent
 * @param group efficacy over this colony and those alike, per cent; empty without others
 */
public record TreatmentEffect(
        ColonyEvent event,
        Colony colony,
        Apiary apiary,
        Optional<Pair> own,
        List<Pair> alike,
        List<Pair> controls,
        List<LeftOut> leftOut,
        Result efficacy,
        Optional<Result> group) {

    /** All washes of a colony on one day. */
    public record Catch(LocalDate day, int mites, double bees) {
        Wash wash() {
            return new Wash(mites, bees);
        }
    }

    /** A colony before and after. */
    public record Pair(Colony colony, Catch before, Catch after) {
        BeforeAfter compared() {
            return new BeforeAfter(before.wash(), after.wash());
        }
    }

    public enum Why {
        NO_WASH_BEFORE,
        NO_WASH_AFTER,
        /** Another treatment, a new queen, a split or a merge between its washes. */
        SOMETHING_BETWEEN
    }

    public record LeftOut(Colony colony, Why why) {}

    public TreatmentEffect {
        alike = List.copyOf(alike);
        controls = List.copyOf(controls);
        leftOut = List.copyOf(leftOut);
    }
}
