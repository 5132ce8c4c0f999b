package org.evenwash.logger.wash;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.apiary.ColonyWash;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.Colony;

/**
 * An apiary as its latest round of washes shows it.
 *
 * @param rows every colony that stands there now: washed ones by falling result, then the others
 * @param from first day of the round
 * @param to last day of the round, which is the last day with a result
 * @param over empty without a threshold that washes can be held against, or without a wash
 * @param today in the apiary's time zone
 */
public record ApiaryOverview(
        Apiary apiary,
        List<Row> rows,
        LocalDate from,
        LocalDate to,
        Mean mean,
        Optional<Threshold> threshold,
        Optional<Over> over,
        Season season,
        LocalDate today) {

    public enum Standing {
        /** Washed in this round: it counts. */
        WASHED,
        /**
         * Treated and not washed since: nothing is known of it now. It is not among those not washed
         * either, as it was its result that chose it, not the lot.
         */
        TREATED_SINCE,
        NOT_WASHED
    }

    /**
     * @param wash the latest of the round, those of one day together; null without one
     */
    public record Row(Colony colony, Standing standing, SameDay wash) {}

    /** Which colonies the mean speaks of. */
    public enum MeanOf {
        ALL,
        /** Every colony that was not treated since its wash. */
        NOT_TREATED,
        /** All that were drawn and all not washed, before any was treated. */
        AS_DRAWN
    }

    /**
     * @param washed colonies it rests on
     * @param colonies that it speaks of
     * @param result mites per 100 bees
     */
    public record Mean(MeanOf of, int washed, int colonies, Result result) {
        static Mean of(MeanOf of, List<SameDay> washes, int unwashed) {
            int colonies = washes.size() + unwashed;
            List<ColonyWash> counts =
                    washes.stream().map(one -> new ColonyWash(one.mites(), one.bees())).toList();
            return new Mean(
                    of,
                    washes.size(),
                    colonies,
                    org.evenwash.analysis.apiary.Apiary.mean(counts, colonies));
        }
    }

    /**
     * Colonies whose reading reaches the threshold, and how many there may be, each bound with 95 %.
     *
     * @param washed that count
     * @param over of those
     * @param colonies in the apiary that were not treated since
     * @param atMost of those colonies
     * @param atLeast of those colonies
     */
    public record Over(int washed, int over, int colonies, int atMost, int atLeast) {
        public int unwashed() {
            return colonies - washed;
        }

        /** Of the colonies that were not washed, so many may be over. */
        public int unwashedAtMost() {
            return atMost - over;
        }
    }

    public ApiaryOverview {
        rows = List.copyOf(rows);
    }

    /** The colonies that count, by falling result. */
    public List<Row> washed() {
        return in(Standing.WASHED);
    }

    /** The colonies that stand so. */
    public List<Row> in(Standing standing) {
        return rows.stream().filter(row -> row.standing() == standing).toList();
    }
}
