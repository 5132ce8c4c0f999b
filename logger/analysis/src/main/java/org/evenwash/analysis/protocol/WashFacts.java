package org.evenwash.analysis.protocol;

import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;
import org.evenwash.analysis.spirit.Strength;

/**
 * All that is known of one wash. Everything may be unknown; what was never set stays "not recorded".
 * Built by one method for each thing that a bench, a form or an old paper record can tell.
 */
public final class WashFacts {
    private final Map<Point, Fact> facts;

    private WashFacts(Map<Point, Fact> facts) {
        this.facts = facts;
    }

    public static Builder builder() {
        return new Builder();
    }

    public Optional<Fact> fact(Point point) {
        return Optional.ofNullable(facts.get(point));
    }

    /** Collects facts; a later statement on a point replaces an earlier one. */
    public static final class Builder {
        private final Map<Point, Fact> facts = new EnumMap<>(Point.class);

        private Builder() {}

        public WashFacts build() {
            return new WashFacts(new EnumMap<>(facts));
        }

        /** Bees counted after the wash; 1 or more. */
        public Builder beesCounted(int bees) {
            facts.put(Point.BEES_COUNTED, new Fact.Answer(true, ""));
            return number(Point.BEES, atLeast(bees, 1, Point.BEES), "counted");
        }

        /**
         * Bees estimated, not counted.
         *
         * @param lower 95 % limit of the estimate; equal to {@code bees} if nobody knows it
         * @param how "fill line", "mass"
         */
        public Builder beesEstimated(double bees, double lower, double upper, String how) {
            facts.put(Point.BEES_COUNTED, new Fact.Answer(false, "estimated by " + how));
            facts.put(Point.BEES, new Fact.Quantity(bees, lower, upper, "estimated by " + how));
            return this;
        }

        public Builder origin(Point.Origin origin) {
            facts.put(Point.ORIGIN, new Fact.Choice(origin.word(), ""));
            return this;
        }

        public Builder frames(int frames) {
            return number(Point.FRAMES, atLeast(frames, 1, Point.FRAMES), "");
        }

        public Builder queenCheck(boolean done) {
            return answer(Point.QUEEN_CHECK, done, "");
        }

        public Builder liquid(Point.Liquid liquid) {
            facts.put(Point.LIQUID, new Fact.Choice(liquid.word(), ""));
            if (!liquid.hasStrength()) {
                facts.put(
                        Point.STRENGTH_PERCENT_VOL,
                        new Fact.DoesNotApply(liquid.word() + " has no strength in %vol"));
            }
            return this;
        }

        /**
         * Strength of the spirit, as a range where evaporation makes it uncertain.
         *
         * @param how "label and dilution", "hydrometer", "batch account"
         */
        public Builder strength(Strength weakest, Strength strongest, String how) {
            return strength_pctVol(weakest.percentVol(), strongest.percentVol(), how);
        }

        /**
         * As {@link #strength}, of a spirit whose chemistry is not known.
         *
         * @param weakest_pctVol 0 to {@code strongest_pctVol}
         * @param strongest_pctVol up to 100
         */
        public Builder strength_pctVol(double weakest_pctVol, double strongest_pctVol, String how) {
            facts.put(
                    Point.STRENGTH_PERCENT_VOL,
                    new Fact.Quantity(
                            (weakest_pctVol + strongest_pctVol) / 2,
                            weakest_pctVol,
                            strongest_pctVol,
                            how));
            return this;
        }

        public Builder liquid_mL(double volume_mL) {
            return number(Point.LIQUID_ML, atLeast(volume_mL, 0, Point.LIQUID_ML), "");
        }

        public Builder beesCovered(boolean covered) {
            return answer(Point.BEES_COVERED, covered, "");
        }

        /** Washes that this spirit had seen before this one. */
        public Builder spiritUses(int washesBefore) {
            return number(Point.SPIRIT_USES, atLeast(washesBefore, 0, Point.SPIRIT_USES), "");
        }

        /** Agitation timed by hand. */
        public Builder agitationByHand_s(double actual_s) {
            return number(
                    Point.AGITATION_S, atLeast(actual_s, 0, Point.AGITATION_S), "timed by hand");
        }

        /**
         * Agitation from a cycle record.
         *
         * @param actual_s sum over the cycles of this wash
         * @param conforms whether the record conforms to its recipe
         * @param departures in which points it does not; empty if it does
         */
        public Builder agitationRecorded(
                double planned_s, double actual_s, boolean conforms, String departures) {
            facts.put(
                    Point.AGITATION_CONFORMS,
                    new Fact.Answer(conforms, conforms ? "cycle record" : departures));
            return number(
                    Point.AGITATION_S,
                    atLeast(actual_s, 0, Point.AGITATION_S),
                    "cycle record, " + Numbers.plain(planned_s) + " s planned");
        }

        public Builder soak_s(double soak_s) {
            return number(Point.SOAK_S, atLeast(soak_s, 0, Point.SOAK_S), "");
        }

        /** Mesh of the upper sieve, which holds the bees. */
        public Builder beeSieve_mm(double beeSieve_mm) {
            return number(Point.BEE_SIEVE_MM, atLeast(beeSieve_mm, 0, Point.BEE_SIEVE_MM), "");
        }

        /** Mesh of the lower sieve, on which mites stay. */
        public Builder miteSieve_mm(double miteSieve_mm) {
            return number(Point.MITE_SIEVE_MM, atLeast(miteSieve_mm, 0, Point.MITE_SIEVE_MM), "");
        }

        public Builder jarWallsChecked(boolean checked) {
            return answer(Point.JAR_WALLS_CHECKED, checked, "");
        }

        public Builder rinses(int rinses) {
            return number(Point.RINSES, atLeast(rinses, 0, Point.RINSES), "");
        }

        /** Mites of the first wash; says too that it was counted. */
        public Builder firstCount(int mites) {
            atLeast(mites, 0, Point.FIRST_COUNT);
            return answer(Point.FIRST_COUNT, true, mites + (mites == 1 ? " mite" : " mites"));
        }

        public Builder firstCountMissing() {
            return answer(Point.FIRST_COUNT, false, "");
        }

        /** A second person's count who did not know the first. */
        public Builder blindRecount(int first_mites, int recount_mites) {
            answer(Point.RECOUNT, true, first_mites + " counted, " + recount_mites + " recounted");
            return number(
                    Point.RECOUNT_DIFFERENCE_MITES, Math.abs(first_mites - recount_mites), "");
        }

        public Builder noRecount() {
            return answer(Point.RECOUNT, false, "");
        }

        /** How often the same bees were washed in all, by somebody who was there. */
        public Builder timesWashed(int times) {
            return number(Point.WASHES, atLeast(times, 1, Point.WASHES), "as stated");
        }

        /**
         * Catches of a wash of the same bees again. There were no fewer washes than these; whether there
         * were more, {@link #timesWashed} says.
         */
        public Builder laterWashes(int first_mites, int... later_mites) {
            int later = 0;
            for (int mites : later_mites) {
                later += (int) atLeast(mites, 0, Point.SECOND_WASH);
            }
            facts.put(Point.WASHES, new Fact.NoFewer(1 + later_mites.length, "by their counts"));
            answer(
                    Point.SECOND_WASH,
                    later_mites.length > 0,
                    later_mites.length > 0 ? later + " more mites" : "");
            int all = first_mites + later;
            return all == 0 || later_mites.length == 0
                    ? this
                    : number(
                            Point.SECOND_WASH_PERCENT,
                            100.0 * later / all,
                            later + " of " + all + " mites");
        }

        /** Mites found when the spirit was run with no bees. */
        public Builder carryOverBlank(int mites) {
            return number(
                    Point.CARRY_OVER_MITES, atLeast(mites, 0, Point.CARRY_OVER_MITES), "blank run");
        }

        public Builder measureCalibrated(int ageDays) {
            answer(Point.MEASURE_CALIBRATED, true, ageDays + " days ago");
            return number(Point.MEASURE_AGE_DAYS, atLeast(ageDays, 0, Point.MEASURE_AGE_DAYS), "");
        }

        public Builder recoveryDetermined(int ageDays) {
            answer(Point.RECOVERY_DETERMINED, true, ageDays + " days ago");
            return number(
                    Point.RECOVERY_AGE_DAYS, atLeast(ageDays, 0, Point.RECOVERY_AGE_DAYS), "");
        }

        private Builder number(Point point, double value, String how) {
            facts.put(point, Fact.Quantity.exactly(value, how));
            return this;
        }

        private Builder answer(Point point, boolean yes, String how) {
            facts.put(point, new Fact.Answer(yes, how));
            return this;
        }

        private static double atLeast(double value, double least, Point point) {
            if (!(value >= least && Double.isFinite(value))) {
                throw new IllegalArgumentException(
                        point.title()
                                + ": at least "
                                + Numbers.plain(least)
                                + " "
                                + point.unit()
                                + ", not "
                                + value);
            }
            return value;
        }
    }
}
