package org.evenwash.logger.wash;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.CountedWash;

/**
 * An apiary as its latest round of washes shows it.
 *
 * @param rows every colony that stands there now: washed ones by falling result, then the others
 * @param from first day of the round
 * @param to last day of the round, which is the last day with a result
 * @param mean mites per 100 bees over all colonies
 * @param over empty without a threshold that washes can be held against, or without a wash
 * @param today in the apiary's time zone
 */
public record ApiaryOverview(
        Apiary apiary,
        List<Row> rows,
        LocalDate from,
        LocalDate to,
        Result mean,
        Optional<Threshold> threshold,
        Optional<Over> over,
        Season season,
        LocalDate today) {

    public enum Standing {
        /** Washed in this round: it counts. */
        WASHED,
        /** Treated after its wash: the result says nothing of now, and it counts as not washed. */
        TREATED_SINCE,
        NOT_WASHED
    }

    /**
     * @param wash the latest of the round, null without one
     */
    public record Row(Colony colony, Standing standing, CountedWash wash) {}

    /**
     * Colonies whose reading reaches the threshold, and how many there may be, each bound with 95 %.
     *
     * @param washed that count
     * @param over of those
     * @param colonies in the apiary
     * @param atMost of all colonies
     * @param atLeast of all colonies
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
        return rows.stream().filter(row -> row.standing() == Standing.WASHED).toList();
    }
}
